import type { Spectrum } from '../../light/spectrum-import/spectrum.ts'

/** The two parts of the job: the instrument's response, and the glow. */
export type Step = 'instrument' | 'glow'

/** What a file is given for: a step, or as a table of what the window in front lets through. */
export type Purpose = Step | 'window'

/** A spectrum of the pile, with the file it came from. */
export interface ImportedSpectrum {
  readonly key: string
  readonly fileName: string
  readonly step: Purpose
  readonly spectrum: Spectrum
}

/** Which spectrum of the pile plays which part; null: none. */
export interface Roles {
  readonly lamp: string | null
  readonly lampDark: string | null
  readonly glow: string | null
  readonly glowDark: string | null
  /** The transmission of the window. */
  readonly window: string | null
}

export const NO_ROLES: Roles = {
  lamp: null,
  lampDark: null,
  glow: null,
  glowDark: null,
  window: null,
}

const DARK_WORDS = /dark|background|blank/i
const LAMP_WORDS = /lamp|halogen|tungsten|filament/i
const GLOW_WORDS = /glow|hot|kiln|forge|furnace/i
/** A recording whose signal rises less than this share of another's is taken for its dark. */
const DARK_SHARE = 0.1
/** Recordings that rise at least this share of the strongest's are equally good. */
const STRONG_SHARE = 0.9

/**
 * Parts for spectra that have just come in, by their names, else by how far their signal rises. Only
 * a proposal: the person sees it and may choose otherwise.
 *
 * @param step for which the files were given: what no name tells goes there
 */
export function proposeRoles(
  before: Roles,
  added: readonly ImportedSpectrum[],
  step: Purpose,
): Roles {
  if (step === 'window') return { ...before, window: added[0]?.key ?? null }
  const isDark = (one: ImportedSpectrum) => DARK_WORDS.test(namesOf(one))
  const named = (words: RegExp, other: RegExp) => (one: ImportedSpectrum) =>
    !isDark(one) && words.test(namesOf(one)) && !other.test(one.spectrum.name ?? '')
  const bright = added.filter((one) => !isDark(one))
  const strongest = Math.max(...bright.map((one) => rise(one.spectrum)))
  const isStrong = (one: ImportedSpectrum) => rise(one.spectrum) >= STRONG_SHARE * strongest
  // Of several strong ones the first, as the file has them; the weak ones after them.
  const light = [
    ...bright.filter(isStrong),
    ...bright
      .filter((one) => !isStrong(one))
      .toSorted((a, b) => rise(b.spectrum) - rise(a.spectrum)),
  ]
  const lamp =
    light.find(named(LAMP_WORDS, GLOW_WORDS)) ?? (step === 'instrument' ? light[0] : undefined)
  const rest = light.filter((one) => one !== lamp)
  const glow = rest.find(named(GLOW_WORDS, LAMP_WORDS)) ?? (step === 'glow' ? rest[0] : undefined)
  const darkOf = (bright: ImportedSpectrum | undefined): string | null => {
    if (!bright) return null
    const others = added.filter((one) => one !== lamp && one !== glow)
    const dark =
      others.find((one) => isDark(one) && one.fileName === bright.fileName) ??
      others.find(isDark) ??
      others.find((one) => rise(one.spectrum) < DARK_SHARE * rise(bright.spectrum))
    return dark?.key ?? null
  }
  return {
    ...before,
    ...(lamp ? { lamp: lamp.key, lampDark: darkOf(lamp) } : {}),
    ...(glow ? { glow: glow.key, glowDark: darkOf(glow) } : {}),
  }
}

const namesOf = ({ fileName, spectrum }: ImportedSpectrum) => spectrum.name ?? fileName

function rise({ signal }: Spectrum): number {
  let low = Number.POSITIVE_INFINITY
  let high = Number.NEGATIVE_INFINITY
  for (const value of signal) {
    low = Math.min(low, value)
    high = Math.max(high, value)
  }
  return high - low
}
