import type { ImportedSpectrum } from '../../session/spectrum/pick-roles.ts'
import { SelectField } from '../../ui/select-field.tsx'

/** A name short enough for a picker: the file where it holds one, else the heading of the column. */
export function nameOfSpectrum(
  { fileName, spectrum }: ImportedSpectrum,
  all: readonly ImportedSpectrum[],
): string {
  const ofFile = all.filter((other) => other.fileName === fileName)
  if (ofFile.length === 1) return fileName
  const { name } = spectrum
  if (name && all.filter((other) => other.spectrum.name === name).length === 1) return name
  const place = ofFile.findIndex((other) => other.spectrum === spectrum) + 1
  return `${name ?? `Spectrum ${place}`} · ${fileName}`
}

export function SpectrumPicker({
  label,
  none,
  spectra,
  value,
  onValue,
}: {
  label: string
  none: string
  spectra: readonly ImportedSpectrum[]
  value: string | null
  onValue: (key: string | null) => void
}) {
  return (
    <SelectField
      label={label}
      of={[['', none], ...spectra.map((one) => [one.key, nameOfSpectrum(one, spectra)] as const)]}
      value={value ?? ''}
      onValue={(key) => onValue(key || null)}
    />
  )
}
