import { describe, expect, test } from 'vitest'
import { bendAt, type SweptCurveKind } from '../../../src/light/exposure-sweep/response.ts'
import { FREE, STIFF } from '../../../src/light/exposure-sweep/response-prior.ts'
import type { PairDatum } from '../../../src/light/raw-pair/pair-data.ts'
import { recoverPair } from '../../../src/light/raw-pair/recover-pair.ts'
import { type Matrix3, type Triple, transform } from '../../../src/numerics/matrix3.ts'
import { normal } from '../pictures.ts'

/** Camera channels to the photo's space: balanced gains and some colour. */
const MATRIX: Matrix3 = [
  [2.1, -0.3, -0.1],
  [-0.2, 1.3, -0.2],
  [0.05, -0.4, 2],
]
/** Light is the nominal one to this power, as cameras with a contrast of 1.16 have it. */
const POWER = 0.86

interface Scene {
  readonly kind?: SweptCurveKind
  readonly power?: number
  readonly matrix?: Matrix3
  readonly black?: number
  readonly shading?: number
  /** In standard uncertainties. */
  readonly noise?: number
}
const UNCERTAINTY = 0.005

/** Glows and greys over six stops, each in the middle and in a corner of the picture. */
function dataOf({
  kind = 'channel',
  power = POWER,
  matrix = MATRIX,
  black = 0,
  shading = 0,
  noise = 0,
}: Scene = {}): PairDatum[] {
  const draw = normal(41)
  const data: PairDatum[] = []
  for (let stop = 0; stop < 6; stop += 0.5)
    for (const colour of [
      [1, 0.3, 0.08],
      [1, 0.5, 0.2],
      [0.5, 1, 0.6],
    ] as const)
      for (const radiusSquared of [0, 0.6]) {
        const level = 0.35 * 2 ** -stop
        const raw = colour.map((v) => level * v) as unknown as Triple
        const light = transform(matrix, raw).map(
          (v) => (v + black) * Math.exp(shading * radiusSquared),
        )
        const bent = light.map((v) => Math.log(v) / power)
        const top = Math.log(Math.max(...light))
        const nominal = (kind === 'channel'
          ? bent
          : light.map((v) => Math.log(v) + top / power - top)) as unknown as Triple
        data.push({
          raw,
          nominal: nominal.map((v) => v + noise * UNCERTAINTY * draw()) as unknown as Triple,
          uncertainty: [UNCERTAINTY, UNCERTAINTY, UNCERTAINTY],
          radiusSquared,
          cells: 50,
        })
      }
  // Not the brightest first.
  return data.toReversed()
}
const recovered = (scene: Scene = {}, { kind = scene.kind ?? 'channel', stated = MATRIX } = {}) =>
  recoverPair(dataOf(scene), kind as SweptCurveKind, stated, FREE[0])
/** Share of green or blue in what the matrix makes of a glow, ln over red. */
const colourOf = (matrix: Matrix3, [r, g, b]: Triple = [1, 0.4, 0.1]) => {
  const light = transform(matrix, [r, g, b])
  return [Math.log(light[1] / light[0]), Math.log(light[2] / light[0])] as const
}
const bendOver = (found: ReturnType<typeof recovered>, from: number, to: number) =>
  bendAt(found.response, to).value - bendAt(found.response, from).value

describe('a tone curve from raw and photo', () => {
  test.each(['channel', 'ratio'] as const)('is found with its matrix: %s', (kind) => {
    const found = recovered({ kind })
    expect(found.response.kind).toBe(kind)
    // ln light = POWER times the nominal one.
    expect(bendOver(found, -4, -0.5)).toBeCloseTo((POWER - 1) * 3.5, 2)
    for (const c of [0, 1] as const)
      expect(colourOf(found.matrix)[c]).toBeCloseTo(colourOf(MATRIX)[c]!, 2)
    expect(found.misfit).toBeLessThan(0.2)
  })

  test('is another one where the camera is flatter or more contrasty', () => {
    for (const power of [0.7, 1.05])
      expect(bendOver(recovered({ power }), -4, -0.5)).toBeCloseTo((power - 1) * 3.5, 1)
  })

  test('fits by its own kind better than by the other', () => {
    for (const kind of ['channel', 'ratio'] as const) {
      const other = kind === 'channel' ? 'ratio' : 'channel'
      const wrong = recovered({ kind }, { kind: other })
      expect(wrong.deviance).toBeGreaterThan(recovered({ kind }).deviance + 20)
    }
  })

  test('counts a black level of the photo', () => {
    const dark = recovered({ black: 0.001 })
    expect(bendOver(dark, -4, -0.5)).toBeCloseTo((POWER - 1) * 3.5, 1)
    expect(dark.misfit).toBeLessThan(0.3)
  })

  test('counts light that the lens correction gave the corners', () => {
    const bright = recovered({ shading: 0.15 })
    expect(bendOver(bright, -4, -0.5)).toBeCloseTo((POWER - 1) * 3.5, 2)
    expect(bright.misfit).toBeLessThan(0.3)
  })

  test('is a power rather than a bend where both fit, and a bend where there is one', () => {
    const by = (prior: (typeof FREE)[number] | (typeof STIFF)[number], scene: Scene = {}) =>
      recoverPair(dataOf(scene), 'channel', MATRIX, prior).deviance
    expect(by(STIFF[1])).toBeLessThan(by(FREE[0]))
    expect(by(FREE[0])).toBeLessThan(by(FREE[1]))
    const bent = dataOf().map((datum) => ({
      ...datum,
      nominal: datum.nominal.map((u) => u! - 0.4 * Math.exp(u!) ** 2) as unknown as Triple,
    }))
    const ofBent = [FREE[0], STIFF[1]].map(
      (prior) => recoverPair(bent, 'channel', MATRIX, prior).deviance,
    )
    expect(ofBent[0]).toBeLessThan(ofBent[1]!)
  })

  test('that keeps ratios needs no blue', () => {
    const data = dataOf({ kind: 'ratio' }).map((datum) => ({
      ...datum,
      nominal: [datum.nominal[0], datum.nominal[1], null] as const,
    }))
    const found = recoverPair(data, 'ratio', MATRIX, FREE[0])
    expect(bendOver(found, -4, -0.5)).toBeCloseTo((POWER - 1) * 3.5, 2)
  })

  test('goes on from another recovery to the same end', () => {
    const first = recovered()
    const again = recoverPair(dataOf(), 'channel', MATRIX, FREE[0], first)
    expect(again.deviance).toBeCloseTo(first.deviance, 3)
    again.parameters.forEach((p, i) => {
      expect(p).toBeCloseTo(first.parameters[i]!, 3)
    })
  })
})

describe('the matrix between raw and photo', () => {
  test('is found where the maker raised colours above what the file states', () => {
    const raised = MATRIX.map((row) => {
      const sum = row[0] + row[1] + row[2]
      return row.map((v) => sum / 3 + 1.1 * (v - sum / 3))
    }) as unknown as Matrix3
    const found = recovered({ matrix: raised })
    for (const c of [0, 1] as const) {
      expect(colourOf(found.matrix)[c]).toBeCloseTo(colourOf(raised)[c]!, 1)
      expect(Math.abs(colourOf(found.matrix)[c]! - colourOf(raised)[c]!)).toBeLessThan(
        0.3 * Math.abs(colourOf(MATRIX)[c]! - colourOf(raised)[c]!),
      )
    }
  })

  test('is the same with its covariance whatever scale it was stated in', () => {
    const doubled = MATRIX.map((row) => row.map((v) => 2 * v)) as unknown as Matrix3
    const [one, other] = [recovered(), recovered({}, { stated: doubled })]
    for (const r of [0, 1, 2] as const)
      for (const c of [0, 1, 2] as const)
        expect(other.matrix[r][c] / one.matrix[r][c]).toBeCloseTo(1, 3)
    for (let i = 0; i < 9; i++) {
      const sd = Math.sqrt(one.matrixCovariance[i]![i]!)
      expect(Math.sqrt(other.matrixCovariance[i]![i]!) / sd).toBeCloseTo(1, 2)
      // Known better than beforehand: a tenth of the length of its row.
      expect(sd).toBeLessThan(0.1 * Math.hypot(...one.matrix[Math.floor(i / 3) as 0 | 1 | 2]) * 2.5)
    }
  })

  test('knows the colour that the scene is full of far better than its entries', () => {
    const { matrix, matrixCovariance: open } = recovered()
    const raw: Triple = [1, 0.4, 0.14]
    const [red, green] = transform(matrix, raw)
    // Derivatives of ln(G/R) of a colour that the scene is full of, by the entries row by row.
    const by = [...raw.map((v) => -v / red), ...raw.map((v) => v / green), 0, 0, 0]
    const variance = by.reduce(
      (sum, a, i) => sum + by.reduce((s, b, j) => s + a * b * open[i]![j]!, 0),
      0,
    )
    const alone = by.reduce((sum, a, i) => sum + a * a * open[i]![i]!, 0)
    expect(variance).toBeGreaterThan(0)
    expect(variance).toBeLessThan(0.2 * alone)
    expect(Math.sqrt(variance)).toBeLessThan(0.06)
    for (let i = 0; i < 9; i++)
      for (let j = 0; j < i; j++) expect(open[i]![j]).toBeCloseTo(open[j]![i]!, 9)
  })
})

describe('what a recovery leaves over', () => {
  test('is as large as the noise in the stated uncertainty', () => {
    expect(Math.abs(recovered({ noise: 1 }).misfit - 1)).toBeLessThan(0.15)
    expect(Math.abs(recovered({ noise: 3 }).misfit / 3 - 1)).toBeLessThan(0.15)
  })

  test('widens all covariances by its square, and never narrows them', () => {
    const [exact, once, thrice] = [0, 1, 3].map((noise) => recovered({ noise }))
    const of = (found: typeof exact, i: number) =>
      found!.matrixCovariance[i]![i]! / Math.hypot(...found!.matrix[0]) ** 2
    expect(of(thrice, 0) / of(exact, 0) / thrice!.misfit ** 2).toBeCloseTo(1, 0)
    expect(of(once, 0) / of(exact, 0)).toBeGreaterThan(0.8)
    const last = exact!.responseCovariance.length - 1
    const ratio = thrice!.responseCovariance[last]! / exact!.responseCovariance[last]!
    expect(ratio / thrice!.misfit ** 2).toBeCloseTo(1, 0)
    // A lower triangle with a diagonal above 0.
    const size = exact!.response.coefficients.length
    expect(exact!.responseCovariance).toHaveLength((size * (size + 1)) / 2)
    for (let i = 0; i < size; i++)
      expect(exact!.responseCovariance[(i * (i + 3)) / 2]).toBeGreaterThan(0)
  })

  test.each([
    ['channel', 1],
    ['ratio', 1],
    ['ratio', 0],
  ] as const)(
    'is told datum by datum, as much as its code is off: %s, channel %d',
    (kind, moved) => {
      const data = dataOf({ kind, power: 0.75 }).map((datum, k) => {
        const [r, g, b] = datum.nominal
        if (k === 40)
          return { ...datum, nominal: moved === 1 ? [r, g! + 0.05, b] : [r! + 0.05, g, b] }
        return k === 34 ? { ...datum, nominal: [r, null, b] } : datum
      }) as unknown as PairDatum[]
      const { residuals } = recoverPair(data, kind, MATRIX, FREE[0])
      expect(residuals).toHaveLength(data.length)
      // Hardly anything of it is taken up by the fit.
      expect(residuals[40]![moved]).toBeGreaterThan(0.042)
      expect(residuals[40]![moved]).toBeLessThan(0.053)
      expect(residuals[34]!.map((v) => v === null)).toEqual([false, true, false])
      for (const v of [residuals[34]![2]!, residuals[35]![1]!, residuals[41]![0]!])
        expect(Math.abs(v)).toBeLessThan(0.01)
    },
  )
})
