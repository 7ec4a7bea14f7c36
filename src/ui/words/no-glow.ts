import type {
  NoGlowEvidence,
  SpectrumPeak,
  SpectrumRefusal,
  SpectrumRefusalCode,
} from '../../estimate/spectrum/types.ts'
import { showTemperature } from '../temperature.ts'
import type { Notice } from './estimate.ts'

/** Narrower peaks are lines, to the eye of a small instrument, nm. */
const LINE_WIDTH_NM = 22
/** Lines are found within this, nm. */
const NEAR_NM = 6

const whole = (nm: number) => nm.toFixed(0)
const nm = (value: number) => `${whole(value)}\u00a0nm`
const percent = (share: number) => `${(100 * share).toFixed(0)}\u00a0%`

/** "546 and 611 nm" */
function places(list: readonly number[]): string {
  const sorted = [...new Set(list.map(whole))].sort((a, b) => Number(a) - Number(b))
  const last = sorted.pop()
  return sorted.length === 0 ? `${last}\u00a0nm` : `${sorted.join(', ')} and ${last}\u00a0nm`
}

const hasNear = (list: readonly number[], at: number) =>
  list.some((one) => Math.abs(one - at) <= NEAR_NM)

/** What the peaks of a light look like, in one clause with its likely cause. */
export function peakWords(peaks: readonly SpectrumPeak[]): string | null {
  const lines = peaks.filter(({ widthNm }) => widthNm < LINE_WIDTH_NM).map(({ atNm }) => atNm)
  const humps = peaks.filter(({ widthNm }) => widthNm >= LINE_WIDTH_NM).map(({ atNm }) => atNm)
  const blue = peaks.find(({ atNm, widthNm }) => atNm < 485 && widthNm > 10 && widthNm < 60)
  if (lines.length > 0) {
    const where = `${lines.length === 1 ? 'A narrow line' : 'Narrow lines'} at ${places(lines)}`
    const mercury = hasNear(lines, 546) || hasNear(lines, 436)
    if (hasNear(lines, 611) && hasNear(lines, 545)) return `${where}: a fluorescent lamp?`
    if (mercury) return `${where}: a mercury or fluorescent lamp?`
    if (hasNear(lines, 589)) return `${where}: a sodium lamp or flame?`
    if (blue && humps.length > 0) return `${where}, a hump at ${places(humps)}: a white LED?`
    return `${where}: a discharge lamp or LED?`
  }
  if (humps.length === 0) return null
  const where = `${humps.length === 1 ? 'A hump' : 'Humps'} at ${places(humps)}`
  if (blue) return `${where}: a white LED?`
  return `${where}: an LED, a fluorescent lamp or a filter?`
}

/** What a person can say where the range is too short to tell. */
export const STATED_GLOW = 'It is a glow: I see what glows'

const TO_DO = 'If it is a glow: shade other light, and check reference, surface and glass.'

/** What was seen where there is no figure, and what to do. */
export function spectrumRefusalNotice({ code, evidence }: SpectrumRefusal): Notice {
  if (evidence === undefined) return { weight: 'stop', ...PLAIN[code] }
  const seen = seenWords(code, evidence)
  return { weight: 'stop', title: PLAIN[code].title, todo: `${seen} ${PLAIN[code].todo}` }
}

function seenWords(code: SpectrumRefusalCode, evidence: NoGlowEvidence): string {
  const { amount, atNm, temperaturesK, sign, peaks = [] } = evidence
  const [first, second] = temperaturesK
  const where = atNm[0] === undefined ? '' : ` near ${nm(atNm[0])}`
  const departure = `${sign === -1 ? 'Too little' : 'Too much'} light${where}`
  const byPeaks = peakWords(peaks)
  switch (code) {
    case 'lines':
      return byPeaks
        ? `${byPeaks}`
        : `Lines at ${places(atNm)} carry ${percent(amount)} of the light.`
    case 'shape':
      return byPeaks ?? `${departure}: it departs from any glow by ${percent(amount)} and more.`
    case 'bands':
      return byPeaks ?? `${departure}, in narrow bands.`
    case 'slope':
      return `The slope of its emissivity would lie ${Math.abs(amount).toFixed(0)} standard uncertainties from this surface’s.`
    case 'off the locus':
      return first !== undefined && second !== undefined
        ? `Its colour says ${showTemperature(first)}, its spectrum ${showTemperature(second)}.`
        : 'Its colour lies off that of all glows.'
    case 'halves disagree':
      return first !== undefined && second !== undefined
        ? `The short-wave half says ${showTemperature(first)}, the long-wave half ${showTemperature(second)}.`
        : ''
    case 'hotter than any solid':
      return `It would have ${showTemperature(amount)}; tungsten melts at ${showTemperature(3695)}.`
    case 'too cold to see':
      return first === undefined ? '' : `A body of ${showTemperature(first)} sends no light here.`
    case 'cannot tell from a lamp':
      return `The spectrum ends at ${nm(amount)}, where white lamps still look like a glow.`
    default:
      return byPeaks ?? ''
  }
}

const PLAIN: Record<SpectrumRefusalCode, { readonly title: string; readonly todo: string }> = {
  'no signal': {
    title: 'No light in this spectrum',
    todo: 'Nothing is left above the dark. Check that light and dark are not swapped.',
  },
  'no trusted range': {
    title: 'No stretch of 30 nm that can be trusted',
    todo: 'The reference is too weak, or full, everywhere. Expose it to near full scale and average scans.',
  },
  'lamp temperature out of range': {
    title: 'The reference is out of range',
    todo: 'A filament lamp must have 1500 to 3600 K, anything else 700 to 4000 K. Check what was typed.',
  },
  'no common wavelengths': {
    title: 'Too few wavelengths in common',
    todo: 'Glow and reference must come from the same instrument; a range set by hand needs 8 samples.',
  },
  'unusable window': { title: 'The glass in front cannot be used', todo: 'Choose another.' },
  'no fit': { title: 'This is not the spectrum of a glow', todo: TO_DO },
  lines: { title: 'This is not the spectrum of a glow', todo: TO_DO },
  bands: { title: 'This is not the spectrum of a glow', todo: TO_DO },
  shape: { title: 'This is not the spectrum of a glow', todo: TO_DO },
  slope: {
    title: 'Surface and spectrum do not belong together',
    todo: 'Check surface, glass and reference.',
  },
  'off the locus': {
    title: 'Colour and spectrum disagree',
    todo: TO_DO,
  },
  'halves disagree': {
    title: 'Two halves, two temperatures',
    todo: 'Something else shines in, or reference, surface or glass are not what was said.',
  },
  'hotter than any solid': {
    title: 'Hotter than any solid',
    todo: 'Daylight, an arc or an LED? Or reference and glow were swapped.',
  },
  'too cold to see': {
    title: 'Too cold to be seen like this',
    todo: 'This is other light, or the dark was not taken off.',
  },
  'cannot tell from a lamp': {
    title: 'A glow, or a white lamp?',
    todo: 'Use an instrument that sees beyond 700 nm, or say below that it is a glow.',
  },
}
