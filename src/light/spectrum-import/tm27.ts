import { parseNumber } from './number.ts'
import type { Spectrum } from './spectrum.ts'

/**
 * IES TM-27: an XML document whose root begins with IESTM27, with `SpectralData` elements that have
 * the wavelength in nm as an attribute and the value as their text.
 * Source: ANSI/IES TM-27-14, from memory; the names are those that open-source readers look for.
 */
export const isTm27 = (text: string) => /<(?:\w+:)?IESTM27/i.test(text.slice(0, 4000))

const MOST_SAMPLES = 100_000

/** @returns null where it holds no samples */
export function readTm27(text: string): Spectrum | null {
  const samples: [number, number][] = []
  const element =
    /<(?:\w+:)?SpectralData\b[^>]*?\bwavelength\s*=\s*["']([^"']{1,40})["'][^>]*>([^<]{1,60})</gi
  for (const match of text.matchAll(element)) {
    const nm = parseNumber(match[1]!, '.')
    const value = parseNumber(match[2]!, '.')
    if (!Number.isNaN(nm) && !Number.isNaN(value)) samples.push([nm, value])
    if (samples.length > MOST_SAMPLES) break
  }
  const sorted = samples
    .sort((a, b) => a[0] - b[0])
    .filter(([nm], i, all) => i === 0 || nm > all[i - 1]![0])
  if (sorted.length === 0) return null
  const textOf = (name: string) =>
    new RegExp(`<(?:\\w+:)?${name}>([^<]{1,80})<`, 'i').exec(text)?.[1]?.trim() ?? ''
  const quantity = textOf('SpectralQuantity')
  const name = [textOf('Description') || textOf('CatalogNumber'), quantity && `(${quantity})`]
  return {
    name: name.filter(Boolean).join(' ').slice(0, 80) || null,
    wavelengthNm: sorted.map(([nm]) => nm),
    signal: sorted.map(([, value]) => value),
  }
}
