/**
 * Which space undoes a camera's wrong white balance better, Display P3 or Bradford: tried with
 * measured camera sensitivities (rawtoaces-data, Apache-2.0).
 */
import { expect, test } from 'vitest'
import { bradford, p3Diagonal } from '../../src/colour/adaptation.ts'
import { xyFromXyz } from '../../src/colour/chromaticity.ts'
import { D65_K, daylightSpectrum } from '../../src/colour/daylight.ts'
import { observerAt } from '../../src/colour/observer.ts'
import { linearP3FromXyz, WHITE_D65, xyzFromLinearP3 } from '../../src/colour/rgb-spaces.ts'
import { type Matrix3, type Triple, transform } from '../../src/numerics/matrix3.ts'
import { planckRadiance } from '../../src/physics/planck.ts'
import { readCameras, readTraining } from '../measured-data.ts'

const WAVELENGTHS = Array.from({ length: 81 }, (_, i) => 380 + 5 * i)
const observer = WAVELENGTHS.map(observerAt)
const sampled = (spectrum: (nm: number) => number) => WAVELENGTHS.map(spectrum)
const glow = (temperatureK: number) => sampled((nm) => planckRadiance(nm * 1e-9, temperatureK))
const d65 = sampled(daylightSpectrum(D65_K))

/** Integral of light times three response curves. */
function respond(light: readonly number[], curves: readonly (readonly number[])[]): Triple {
  const sum: [number, number, number] = [0, 0, 0]
  for (let i = 0; i < light.length; i++) {
    for (let k = 0; k < 3; k++) sum[k]! += light[i]! * curves[i]![k]!
  }
  return sum
}

const balanced = (raw: Triple, white: Triple): Triple => [
  raw[0] / white[0],
  raw[1] / white[1],
  raw[2] / white[2],
]

/** White-preserving matrix from balanced raw to linear Display P3, least squares. */
function fitMatrix(raw: readonly Triple[], p3: readonly Triple[]): Matrix3 {
  const rows = [0, 1, 2].map((channel): Triple => {
    let [a, b, d, p, q] = [0, 0, 0, 0, 0]
    for (const [j, [r, g, rest]] of raw.entries()) {
      const x = r - rest
      const y = g - rest
      const t = p3[j]![channel]! - rest
      a += x * x
      b += x * y
      d += y * y
      p += x * t
      q += y * t
    }
    const m0 = (p * d - q * b) / (a * d - b * b)
    const m1 = (q * a - p * b) / (a * d - b * b)
    return [m0, m1, 1 - m0 - m1]
  })
  return rows as unknown as Matrix3
}

/** Error in K, by G/R, of a 1173 K glow from a camera balanced on `setK` daylight under D65. */
function errors(
  curves: readonly (readonly number[])[],
  patches: readonly (readonly number[])[],
  setK: number,
) {
  const luminance = respond(d65, observer)[1]
  const white = respond(d65, curves)
  const lights = patches[0]!.map((_, j) => d65.map((value, i) => value * patches[i]![j]!))
  const matrix = fitMatrix(
    lights.map((light) => balanced(respond(light, curves), white)),
    lights.map((light) => {
      const [x, y, z] = respond(light, observer)
      return linearP3FromXyz([x / luminance, y / luminance, z / luminance])
    }),
  )
  const photo = (light: readonly number[], on: Triple) =>
    transform(matrix, balanced(respond(light, curves), on))
  const logRatio = (rgb: Triple) => Math.log(rgb[1] / rgb[0])
  const right = logRatio(photo(glow(1173), white))
  const perKelvin = (logRatio(photo(glow(1183), white)) - right) / 10
  const wrong = respond(sampled(daylightSpectrum(setK)), curves)
  const stored = photo(glow(1173), wrong)
  const card = photo(d65, wrong)
  const cardXy = xyFromXyz(xyzFromLinearP3(card))!
  const through = (adapt: Matrix3) => linearP3FromXyz(transform(adapt, xyzFromLinearP3(stored)))
  const off = (rgb: Triple) => (logRatio(rgb) - right) / perKelvin
  return [
    off(stored),
    off(through(p3Diagonal(cardXy, WHITE_D65))),
    off(through(bradford(cardXy, WHITE_D65))),
  ] as const
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length
const spread = (values: readonly number[]) =>
  Math.sqrt(mean(values.map((value) => (value - mean(values)) ** 2)))

test('a grey card applied in Display P3 leaves half of what Bradford leaves', () => {
  const cameras = readCameras()
  const patches = readTraining()
  expect(cameras.length).toBe(52)
  for (const { firstNm, stepNm } of [...cameras, patches])
    expect([firstNm, stepNm]).toEqual([WAVELENGTHS[0], WAVELENGTHS[1]! - WAVELENGTHS[0]!])
  // The numbers that the docstring of p3Diagonal states, in whole K.
  for (const [setK, uncorrected, p3, bradfordLeaves] of [
    [5500, 58, [12, 10], [28, 9]],
    [7500, -42, [-10, 8], [-20, 7]],
  ] as const) {
    const found = cameras.map(({ values }) => errors(values, patches.rows, setK))
    const column = (k: 0 | 1 | 2) => found.map((row) => row[k])
    expect(Math.round(mean(column(0)))).toBe(uncorrected)
    expect([Math.round(mean(column(1))), Math.round(spread(column(1)))]).toEqual(p3)
    expect([Math.round(mean(column(2))), Math.round(spread(column(2)))]).toEqual(bradfordLeaves)
  }
})
