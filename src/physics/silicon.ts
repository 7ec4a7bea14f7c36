/**
 * Absorption of crystalline silicon at 300 K, 1/cm, beyond the visible.
 * Source: Green & Keevers 1995, Prog. Photovolt. 3, 189 (from memory).
 */
const ABSORPTION: readonly (readonly [number, number])[] = [
  [780, 1010],
  [800, 850],
  [820, 707],
  [850, 535],
  [880, 383],
  [900, 306],
  [920, 240],
  [950, 157],
  [980, 95.9],
  [1000, 64],
  [1020, 39.9],
  [1050, 16.3],
  [1080, 6.2],
  [1100, 3.5],
]

/** From here on the dyes of a camera's pixels are taken as clear, nm. */
export const INFRARED_FROM_NM = 780
/** Silicon's response has fallen below a thousandth. */
export const INFRARED_TO_NM = 1100

/**
 * Share of the photons that are absorbed within a depth of silicon: 1 - exp(-absorption x depth).
 * Absorption between the table's wavelengths by its logarithm, beyond them that of the end.
 *
 * @param nm 780 to 1100
 * @param depthMicrometres that the pixel collects from
 * @returns 0..1
 */
export function siliconAbsorbs(nm: number, depthMicrometres: number): number {
  const above = ABSORPTION.findIndex(([at]) => at >= nm)
  const i = above === -1 ? ABSORPTION.length - 1 : Math.max(above, 1)
  const [from, to] = [ABSORPTION[i - 1]!, ABSORPTION[i]!]
  const share = Math.min(Math.max((nm - from[0]) / (to[0] - from[0]), 0), 1)
  const absorption = from[1] * (to[1] / from[1]) ** share
  return -Math.expm1(-absorption * depthMicrometres * 1e-4)
}
