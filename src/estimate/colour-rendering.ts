/**
 * What an ordinary photo does to colours beside its tone curve: it makes them more vivid, away from
 * the grey of the same lightness. Raw pixels and faithful sources do not.
 */

/** ln of a saturation: prior mean and standard deviation. */
interface Saturation {
  readonly mean: number
  readonly sd: number
}

/**
 * Cameras do it in linear light or on encoded values; both are allowed for, each with its own share.
 * Together they span saturations of 0.95 to 1.3, see METHODS.md.
 */
export const SATURATION: Readonly<Record<'linear' | 'encoded', Saturation>> = {
  linear: { mean: 0.07, sd: 0.1 },
  encoded: { mean: 0.03, sd: 0.05 },
}

/** Shares of linear Display P3 in lightness (IEC 61966-2-1 primaries' counterpart, SMPTE EG 432-1). */
const LIGHTNESS = [0.229, 0.6917, 0.0793] as const
/** Encoded values as a plain power: its scale does not matter then. */
const GAMMA = 2.2

/** G/R and B/R of linear light. */
export type RatioPair = readonly [green: number, blue: number]

/**
 * Ratios after saturation in linear light, then on encoded values.
 *
 * @param lnLinear ln of the factor on the distance from grey in linear light
 * @param lnEncoded the same on encoded values; what is below zero stays there in proportion
 */
export function rendered(ratios: RatioPair, lnLinear: number, lnEncoded: number): RatioPair {
  const linear = away([1, ...ratios], Math.exp(lnLinear))
  const [r, g, b] = linear.map((value) => Math.sign(value) * Math.abs(value) ** (1 / GAMMA))
  const bent = away([r!, g!, b!], Math.exp(lnEncoded))
  const back = bent.map((value) => Math.sign(value) * Math.abs(value) ** GAMMA)
  return [back[1]! / back[0]!, back[2]! / back[0]!]
}

function away(rgb: readonly [number, number, number], factor: number): number[] {
  const grey = LIGHTNESS[0] * rgb[0] + LIGHTNESS[1] * rgb[1] + LIGHTNESS[2] * rgb[2]
  return rgb.map((value) => grey + factor * (value - grey))
}
