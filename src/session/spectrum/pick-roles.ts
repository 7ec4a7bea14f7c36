import type { Spectrum } from '../../light/spectrum-import/spectrum.ts'

/** The two parts of the job: the instrument's response, and the glow. */
export type Step = 'instrument' | 'glow'

/** What a file is given for: a step, or as a table of what the window in front lets through. */
export type Purpose = Step | 'window'

/** An imported spectrum, with the file it came from. */
export interface ImportedSpectrum {
  readonly key: string
  readonly fileName: string
  readonly step: Purpose
  readonly spectrum: Spectrum
}

/** Which imported spectrum plays which part; null: none. */
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
/** Light from which the dark has been taken off. */
const DARK_GONE = /correct|subtract|minus|remov|without/i

/** Does a heading name a recording with the light shut out? */
export const isDarkName = (name: string | null) =>
  name !== null && DARK_WORDS.test(name) && !DARK_GONE.test(name)

const LAMP_WORDS = /lamp|halogen|tungsten|filament/i
const GLOW_WORDS = /glow|hot|kiln|forge|furnace/i
/** A recording whose signal rises less than this share of another's is taken for its dark. */
const DARK_SHARE = 0.1
/**
 * Parts for spectra that have just come in: by the headings of their columns, else by the step for which
 * they were given, where one alone is bright. A file's name says nothing: it is read by people. Where
 * several could be meant none is taken, and the person is asked.
 *
 * @param step for which the files were given
 */
export function proposeRoles(
  before: Roles,
  added: readonly ImportedSpectrum[],
  step: Purpose,
): Roles {
  if (step === 'window') {
    return { ...before, window: added.length === 1 ? added[0]!.key : null }
  }
  const isDark = (one: ImportedSpectrum) => isDarkName(one.spectrum.name)
  const lights = added.filter((one) => !isDark(one))
  const strongest = Math.max(...lights.map((one) => rise(one.spectrum)))
  const isBright = (one: ImportedSpectrum) => rise(one.spectrum) >= DARK_SHARE * strongest
  const bright = lights.filter(isBright)
  const headed = (words: RegExp, other: RegExp) => {
    const found = bright.filter(({ spectrum: { name } }) =>
      name === null ? false : words.test(name) && !other.test(name),
    )
    return { one: found.length === 1 ? found[0] : undefined, some: found.length > 0 }
  }
  const lampBy = headed(LAMP_WORDS, GLOW_WORDS)
  const glowBy = headed(GLOW_WORDS, LAMP_WORDS)
  /** The only bright one that no heading gives to the other step. */
  const alone = (
    own: typeof lampBy,
    other: ImportedSpectrum | undefined,
    present: string | null,
  ) => {
    // A later file may be its dark, or another light.
    if (own.some || present !== null) return own.one
    const left = bright.filter((one) => one !== other)
    return left.length === 1 ? left[0] : undefined
  }
  const lamp = step === 'instrument' ? alone(lampBy, glowBy.one, before.lamp) : lampBy.one
  const glow = step === 'glow' ? alone(glowBy, lampBy.one, before.glow) : glowBy.one
  const darkOf = (of: ImportedSpectrum | undefined): string | null => {
    if (!of) return null
    const others = added.filter((one) => one !== lamp && one !== glow)
    const dark =
      others.find((one) => isDark(one) && one.fileName === of.fileName) ??
      others.find(isDark) ??
      others.find((one) => rise(one.spectrum) < DARK_SHARE * rise(of.spectrum))
    return dark?.key ?? null
  }
  return {
    ...before,
    ...(lamp ? { lamp: lamp.key, lampDark: darkOf(lamp) } : {}),
    ...(glow ? { glow: glow.key, glowDark: darkOf(glow) } : {}),
  }
}

function rise({ signal }: Spectrum): number {
  let low = Number.POSITIVE_INFINITY
  let high = Number.NEGATIVE_INFINITY
  for (const value of signal) {
    low = Math.min(low, value)
    high = Math.max(high, value)
  }
  return high - low
}
