import { describe, expect, test } from 'vitest'
import { XYZ_FROM_P3 } from '../../src/colour/rgb-spaces.ts'
import { type CameraCurves, withLeak, withRendering } from '../../src/estimate/camera-curves.ts'
import type { LeakLocus } from '../../src/estimate/camera-locus/types.ts'
import { rendered, SATURATION } from '../../src/estimate/colour-rendering.ts'
import { expectClose } from '../close-to.ts'

const RANGE = { mean: 2e-3, sd: 6e-4, weight: 1 }
const NODES = [0, 1, 2]

const ratioOf = (values: readonly number[], ...loadings: number[][]) => ({ mean: values, loadings })
const PLAIN = {
  scale: 'linear',
  green: ratioOf([0.05, 0.12, 0.4], [0.006, 0.01, 0.02], [-0.001, 0.002, 0.003]),
  blue: ratioOf([0.03, 0.05, 0.1], [0.001, 0.003, 0.01], [0.0005, 0.001, -0.004]),
} as const
const ln = (values: readonly number[]) => values.map(Math.log)
const LOG: CameraCurves = {
  scale: 'log',
  green: ratioOf(ln(PLAIN.green.mean), [0.1, 0.08, 0.05], [-0.02, 0.015, 0.01]),
  blue: ratioOf(ln(PLAIN.blue.mean), [0.2, 0.15, 0.1], [0.1, 0.05, -0.04]),
}
/** The colder, the more infrared there is over the visible red. */
const LEAK: LeakLocus = {
  red: ratioOf([4, 2, 0.3], [0.2, 0.1, -0.1], [0.05, -0.1, 0.2]),
  green: ratioOf([4.1, 2.2, 0.1], [0.1, 0.15, -0.2], [-0.1, 0.1, 0.1]),
  blue: ratioOf([3.9, 1.8, 0.2], [-0.1, 0.05, 0.1], [0.2, 0.05, -0.1]),
}

const sum = (
  { mean, loadings }: { mean: readonly number[]; loadings: readonly (readonly number[])[] },
  node: number,
  coefficients: readonly number[],
) => mean[node]! + loadings.reduce((all, list, k) => all + list[node]! * coefficients[k]!, 0)

/** Difference quotient by one coefficient, from where all are 0. */
function steepness(of: (coefficients: number[]) => number, count: number, k: number): number {
  const at = (step: number) => of(Array.from({ length: count }, (_, i) => (i === k ? step : 0)))
  return (at(1e-4) - at(-1e-4)) / 2e-4
}

describe.each([
  ['ratios', PLAIN],
  ['logarithms of ratios', LOG],
] as const)('infrared in a camera whose curves are %s', (_, curves) => {
  /** (G + leak) / (R + leak), written out: two numbers of the camera, the leak, two of its shape. */
  const seen = (ratio: 'green' | 'blue', node: number) => (c: readonly number[]) => {
    const visible = sum(curves[ratio], node, c.slice(0, 2))
    const leak = RANGE.mean + RANGE.sd * c[2]!
    const of = (channel: 'red' | 'green' | 'blue') =>
      leak * Math.exp(sum(LEAK[channel], node, c.slice(3)))
    const value =
      ((curves.scale === 'log' ? Math.exp(visible) : visible) + of(ratio)) / (1 + of('red'))
    return curves.scale === 'log' ? Math.log(value) : value
  }
  const leaky = withLeak(curves, LEAK, RANGE)

  test.each(['green', 'blue'] as const)('is added to %s as to red', (ratio) => {
    expect(leaky[ratio].loadings).toHaveLength(5)
    expect(leaky.scale).toBe(curves.scale)
    for (const node of NODES) {
      const of = seen(ratio, node)
      expectClose(leaky[ratio].mean[node]!, of([0, 0, 0, 0, 0]), 1e-12)
      for (const [k, loading] of leaky[ratio].loadings.entries())
        expectClose(loading[node]!, steepness(of, 5, k), 1e-5, `${ratio} ${node} ${k}`)
    }
  })
})

describe('more vivid colours', () => {
  /** Shares in lightness of linear Display P3: the second row of its matrix to XYZ. */
  const [ofRed, ofGreen, ofBlue] = XYZ_FROM_P3[1]
  const lightness = (g: number, b: number) => ofRed + ofGreen * g + ofBlue * b
  /** Departures of red and green from blue over the lightness: what saturation is a factor on. */
  const departures = (g: number, b: number) => [
    (1 - b) / lightness(g, b),
    (g - b) / lightness(g, b),
  ]

  test('lie so much further from the grey of their lightness, in linear light', () => {
    const before = departures(0.3, 0.1)
    for (const lnFactor of [0.1, -0.2])
      departures(...rendered([0.3, 0.1], lnFactor, 0)).forEach((value, i) => {
        expectClose(value, Math.exp(lnFactor) * before[i]!, 1e-4)
      })
  })

  test('or in values encoded by a power of 2.2', () => {
    const encoded = ([g, b]: readonly [number, number]) => [g ** (1 / 2.2), b ** (1 / 2.2)] as const
    const before = departures(...encoded([0.3, 0.1]))
    departures(...encoded(rendered([0.3, 0.1], 0, 0.1))).forEach((value, i) => {
      expectClose(value, Math.exp(0.1) * before[i]!, 1e-4)
    })
  })

  test('leave grey as it is, and a colour beyond the space where it was without them', () => {
    for (const same of [
      [1, 1],
      [0.05, -0.02],
    ] as const) {
      const [g, b] = rendered(same, 0, 0)
      expect(g).toBeCloseTo(same[0], 12)
      expect(b).toBeCloseTo(same[1], 12)
    }
    const [g, b] = rendered([1, 1], 0.2, 0.1)
    expect(g).toBeCloseTo(1, 12)
    expect(b).toBeCloseTo(1, 12)
  })

  test.each([
    ['daylight', [1, 1, 1]],
    ['a lamp', [1, 0.55, 0.2]],
  ] as const)('are about what a picture balanced for %s shows as grey', (_, white) => {
    const [scaleG, scaleB] = [white[1] / white[0], white[2] / white[0]]
    const { linear, encoded } = SATURATION
    const vivid = withRendering(PLAIN, white)
    for (const [channel, ratio] of (['green', 'blue'] as const).entries()) {
      expect(vivid[ratio].loadings).toHaveLength(4)
      for (const node of NODES) {
        const of = (c: readonly number[]) => {
          const g = sum(PLAIN.green, node, c.slice(0, 2)) / scaleG
          const b = sum(PLAIN.blue, node, c.slice(0, 2)) / scaleB
          const seen = rendered(
            [g, b],
            linear.mean + linear.sd * c[2]!,
            encoded.mean + encoded.sd * c[3]!,
          )
          return seen[channel]! * [scaleG, scaleB][channel]!
        }
        expectClose(vivid[ratio].mean[node]!, of([0, 0, 0, 0]), 1e-9)
        for (const [k, loading] of vivid[ratio].loadings.entries()) {
          const expected = steepness(of, 4, k)
          expect(Math.abs(loading[node]! - expected)).toBeLessThan(1e-5 + 2e-3 * Math.abs(expected))
        }
      }
    }
  })
})
