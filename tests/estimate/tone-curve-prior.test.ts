import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer, P3_FROM_SRGB } from '../../src/colour/rgb-spaces.ts'
import {
  correctionMoments,
  ratioCorrection,
  TONE_CURVES,
} from '../../src/estimate/tone-curve-prior.ts'
import {
  applied,
  bent,
  type CurveKind,
  straightened,
  type ToneHypothesis,
  toneHypothesis,
} from '../../src/estimate/tone-hypothesis.ts'
import { type Triple, transform } from '../../src/numerics/matrix3.ts'
import { dngDefault } from '../accuracy/response-curves.ts'
import { expectClose } from '../close-to.ts'
import { reading, reference, seen, temperature } from './inputs.ts'

const curveOf = (kind: CurveKind): fc.Arbitrary<ToneHypothesis> =>
  fc
    .record({
      kind: fc.constant(kind),
      contrast: fc.double({ min: 0.6, max: 1.8, noNaN: true }),
      shoulder: fc.double({ min: 0, max: 5, noNaN: true }),
      toe: fc.double({ min: 0, max: 0.01, noNaN: true }),
      weight: fc.constant(1),
    })
    .map(toneHypothesis)

describe('tone curves that a photo may have', () => {
  test('weigh 1 together', () => {
    expectClose(
      TONE_CURVES.reduce((sum, { weight }) => sum + weight, 0),
      1,
      1e-9,
    )
  })

  test('have the contrast of 123 measured responses: 1.16 at the centre, 0.151 of its logarithm', () => {
    const channels = TONE_CURVES.filter(({ kind }) => kind === 'channel')
    const step = 1.001
    const slopes = channels.map((curve) => ({
      weight: curve.weight,
      ln: Math.log(
        Math.log(bent(curve, 0.18 * step) / bent(curve, 0.18 / step)) / (2 * Math.log(step)),
      ),
    }))
    const total = slopes.reduce((sum, { weight }) => sum + weight, 0)
    const mean = slopes.reduce((sum, { weight, ln }) => sum + weight * ln, 0) / total
    const variance = slopes.reduce((sum, { weight, ln }) => sum + weight * (ln - mean) ** 2, 0)
    expect(Math.abs(Math.exp(mean) - 1.16)).toBeLessThan(0.005)
    expect(Math.abs(Math.sqrt(variance / total) - 0.151)).toBeLessThan(0.0005)
  })

  test('are undone by their inverse', () => {
    fc.assert(
      fc.property(curveOf('channel'), fc.double({ min: 0.001, max: 1, noNaN: true }), (one, x) => {
        expectClose(straightened(one, bent(one, x)), x, 1e-9)
      }),
    )
  })

  // DNG SDK 1.3, default tone curve; the margin is what the prior says of one curve in twenty.
  test.each([
    [0.6, 0.06],
    [0.6, 0.03],
    [0.3, 0.03],
  ])(
    'allow for the default curve of the DNG reference rendering, red %d and green %d',
    (red, green) => {
      const lightOf = (decoded: number) => {
        let [low, high] = [0, 1]
        for (let i = 0; i < 50; i++) {
          const middle = (low + high) / 2
          if (dngDefault(middle) < decoded) low = middle
          else high = middle
        }
        return low
      }
      const truth = Math.log(lightOf(green) / lightOf(red) / (green / red))
      const codes: Triple = [encodeTransfer(red), encodeTransfer(green), encodeTransfer(green / 5)]
      const { mean, variance } = correctionMoments(codes, 'display-p3', 'green')
      expect(Math.abs(truth - mean)).toBeLessThan(1.96 * Math.sqrt(variance))
    },
  )

  test.each([
    ['srgb', 'channel'],
    ['display-p3', 'channel'],
    ['srgb', 'hue'],
    ['display-p3', 'hue'],
  ] as const)('are taken off a colour stored in %s, applied by %s', (space, kind) => {
    fc.assert(
      fc.property(curveOf(kind), (one) => {
        // Light in the channels of the file, bent, stored, decoded.
        const light: Triple = [0.6, 0.06, 0.02]
        const codes = applied(one, light).map(encodeTransfer) as unknown as Triple
        const p3 = (rgb: Triple) => (space === 'srgb' ? transform(P3_FROM_SRGB, rgb) : rgb)
        const decoded = p3(codes.map(decodeTransfer) as unknown as Triple)
        const truth = p3(light)
        const { green, blue } = ratioCorrection(one, codes, space)
        expectClose((decoded[1] / decoded[0]) * Math.exp(green), truth[1] / truth[0], 1e-6)
        expectClose((decoded[2] / decoded[0]) * Math.exp(blue), truth[2] / truth[0], 1e-6)
      }),
    )
  })

  test('that keep ratios need no correction', () => {
    const ratio = toneHypothesis({ kind: 'ratio', contrast: 1.3, shoulder: 1, toe: 0, weight: 1 })
    expect(ratioCorrection(ratio, [0.8, 0.3, 0.2], 'srgb')).toEqual({ green: 0, blue: 0 })
    const [r, g, b] = applied(ratio, [0.4, 0.1, 0.02])
    expectClose(g / r, 0.25, 1e-9)
    expectClose(b / r, 0.05, 1e-9)
  })

  test('that keep the hue move the middle channel along with the outer ones', () => {
    const hue = toneHypothesis({ kind: 'hue', contrast: 1.3, shoulder: 1, toe: 0, weight: 1 })
    const [r, g, b] = applied(hue, [0.5, 0.2, 0.1])
    expectClose((g - b) / (r - b), 0.25, 1e-9)
    expectClose(r, bent(hue, 0.5), 1e-12)
    expectClose(b, bent(hue, 0.1), 1e-12)
  })

  test('spread more the further red and green lie apart', () => {
    const near = correctionMoments([0.8, 0.6, 0.5], 'display-p3', 'green')
    const far = correctionMoments([0.8, 0.3, 0.2], 'display-p3', 'green')
    expect(far.variance).toBeGreaterThan(3 * near.variance)
  })
})

describe('a single photo', () => {
  const levels = (green: number): Triple => [0.73, green, 0.15]
  const single = (green: number, curveId = 'phone standard') =>
    ({
      kind: 'single',
      curveId,
      storedLevels: levels(green),
      space: 'display-p3',
    }) as const

  test('is dominated by its tone curve and advises a way out', () => {
    const ordinary = { linearity: single(0.27), faithfulColours: false }
    const estimate = temperature(reading(seen(1173), ordinary))
    const curve = estimate.budget.find(({ term }) => term === 'tone curve')
    expect(curve?.standardUncertaintyK).toBeGreaterThan(40)
    expect(estimate.standardUncertaintyK).toBeGreaterThan(100)
    expect(estimate.findings.map(({ code }) => code)).toContain('tone curve unknown')
  })

  test('with a reference on the same curve at the same level loses most of the curve error', () => {
    const salt = (curveId: string) => [
      reference(1073.6, 6, seen(1073.6), { linearity: single(0.245, curveId) }),
    ]
    const glow = seen(1173)
    const matched = temperature(
      reading(glow, { linearity: single(0.27), references: salt('phone standard') }),
    )
    const apart = temperature(
      reading(glow, { linearity: single(0.27), references: salt('another curve') }),
    )
    const part = (estimate: typeof matched) =>
      estimate.budget.find(({ term }) => term === 'tone curve')?.standardUncertaintyK ?? 0
    expect(part(matched)).toBeLessThan(0.2 * part(apart))
    expect(matched.standardUncertaintyK).toBeLessThan(25)
  })
})
