import { xyzFromXy } from '../../colour/chromaticity.ts'
import { P3_FROM_SRGB, WHITE_D65 } from '../../colour/rgb-spaces.ts'
import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  type Triple,
  transform,
} from '../../numerics/matrix3.ts'
import { BALANCE_UNCERTAINTY, type MeasuredGrey } from '../grey-reference.ts'
import type { RgbSpace } from '../image.ts'
import type { PairRecovery } from './recover-pair.ts'

/** How well a raw file's matrix knows the camera's answer to daylight, ln of a channel. */
const WHITE_UNCERTAINTY = 0.02
/** An open balance beyond this says less than the person's word. */
const LARGEST_UNCERTAINTY = 0.1

/**
 * The gains that a grey card in daylight would have given the photo: what the matrix between raw
 * and photo makes of daylight, which the raw file's own matrix predicts.
 *
 * @returns null without that matrix, and where the scene held no light near enough to grey
 */
export function balanceOfPair(
  { matrix, matrixCovariance }: PairRecovery,
  cameraToXyz: Matrix3 | null,
  space: RgbSpace,
): MeasuredGrey | null {
  if (cameraToXyz === null) return null
  const white = transform(invert(cameraToXyz), xyzFromXy(WHITE_D65))
  const toP3 = space === 'srgb' ? P3_FROM_SRGB : diagonal([1, 1, 1])
  const light = transform(multiply(toP3, matrix), white)
  if (!light.every((v) => v > 0)) return null
  const logGains: Triple = [0, Math.log(light[0] / light[1]), Math.log(light[0] / light[2])]
  // Derivative of ln of each P3 channel by the nine entries of the matrix.
  const slopes = ([0, 1, 2] as const).map((c) =>
    Array.from({ length: 9 }, (_, i) => {
      const [row, column] = [Math.floor(i / 3) as 0 | 1 | 2, (i % 3) as 0 | 1 | 2]
      return (toP3[c][row] * white[column]) / light[c]
    }),
  )
  const lessRed = slopes.map((row) => row.map((v, i) => v - slopes[0]![i]!))
  const cell = (a: number, b: number) => {
    let sum = 0
    for (let i = 0; i < 9; i++) {
      for (let j = 0; j < 9; j++)
        sum += lessRed[a]![i]! * matrixCovariance[i]![j]! * lessRed[b]![j]!
    }
    const ofWhite = a === 0 || b === 0 ? 0 : (a === b ? 2 : 1) * WHITE_UNCERTAINTY ** 2
    return sum + ofWhite + BALANCE_UNCERTAINTY ** 2 * logGains[a]! * logGains[b]!
  }
  if (!(cell(1, 1) < LARGEST_UNCERTAINTY ** 2)) return null
  const row = (a: number): Triple => [cell(a, 0), cell(a, 1), cell(a, 2)]
  return {
    logGains,
    covariance: [row(0), row(1), row(2)],
    light: { kind: 'daylight', colourTemperatureK: 6504, standardUncertaintyK: 300 },
  }
}
