import type { GlowInput, GreyBalance } from '../types.ts'
import type { LiveLine } from './live-line.ts'

/**
 * Lines for one look after the other: a glow that stands keeps its line. An hour's watch of one heat is
 * spared most of its work, and the phone its battery.
 */
export function standingLine(
  lineOf: (input: GlowInput) => LiveLine,
): (input: GlowInput) => LiveLine {
  let line: LiveLine | null = null
  return (input) => {
    if (!line || !stands(line.input, input)) line = lineOf(input)
    return line
  }
}

/** How far apart two numbers are still alike: `absolute` plus `relative` times the larger. */
interface Near {
  readonly absolute: number
  readonly relative: number
}

const SAME: Near = { absolute: 0, relative: 0 }
/** ln(G/R), and what moves it: 0.7 K at 1173 K. Frames are read along the line, so this is only a second order. */
const GREEN: Near = { absolute: 0.002, relative: 0 }
const BLUE: Near = { absolute: 0.006, relative: 0 }
/** Levels, which decide how much of a tone curve counts. */
const LEVEL: Near = { absolute: 0.002, relative: 0.02 }
const SHARE: Near = { absolute: 0.004, relative: 0.1 }
/** Noise of the look's pixels; that of the frames is counted beside the line. */
const NOISE: Near = { absolute: 0, relative: 0.5 }

/** Whether the estimate of the one holds for the other but for a small step along its line. */
export function stands(before: GlowInput, now: GlowInput): boolean {
  return (
    near(settingsOf(before), settingsOf(now), SAME) &&
    near(lnRatio(before, 1), lnRatio(now, 1), GREEN) &&
    near(lnRatio(before, 2), lnRatio(now, 2), BLUE) &&
    near(noiseOf(before.glow.covariance), noiseOf(now.glow.covariance), NOISE) &&
    near(before.quality, now.quality, SHARE) &&
    near(before.linearity, now.linearity, LEVEL) &&
    nearBalance(before.balance, now.balance)
  )
}

/** What a look does not measure. */
function settingsOf({ glow, quality, linearity, balance, ...settings }: GlowInput) {
  return { ...settings, light: balance?.light ?? null, card: balance?.id ?? null }
}

const lnRatio = ({ glow: { mean } }: GlowInput, channel: 1 | 2) => Math.log(mean[channel] / mean[0])
const noiseOf = (covariance: GlowInput['glow']['covariance']) => covariance.map((row, i) => row[i])

const nearBalance = (before: GreyBalance | null, now: GreyBalance | null): boolean =>
  before === null || now === null
    ? before === now
    : near(before.logGains, now.logGains, GREEN) &&
      near(noiseOf(before.covariance), noiseOf(now.covariance), NOISE)

/** Whether two values of the same shape are alike: numbers near each other, all else the same. */
function near(a: unknown, b: unknown, { absolute, relative }: Near): boolean {
  if (Object.is(a, b)) return true
  if (typeof a === 'number' && typeof b === 'number')
    return Math.abs(a - b) <= absolute + relative * Math.max(Math.abs(a), Math.abs(b))
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return false
  const keys = new Set([...Object.keys(a), ...Object.keys(b)])
  const at = (of: object, key: string) => (of as Record<string, unknown>)[key]
  return [...keys].every((key) => near(at(a, key), at(b, key), { absolute, relative }))
}
