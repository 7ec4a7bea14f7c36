import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer, P3_FROM_SRGB } from '../../src/colour/rgb-spaces.ts'
import {
  bent,
  correctionMoments,
  ratioCorrection,
  straightened,
  TONE_CURVES,
  type ToneHypothesis,
} from '../../src/estimate/tone-curve-prior.ts'
import { type Triple, transform } from '../../src/numerics/matrix3.ts'
import { expectClose } from '../close-to.ts'
import { reading, reference, seen, temperature } from './inputs.ts'

const curve: fc.Arbitrary<ToneHypothesis> = fc.record({
  kind: fc.constant('channel' as const),
  contrast: fc.double({ min: 0.6, max: 1.6, noNaN: true }),
  shoulder: fc.double({ min: 0, max: 0.8, noNaN: true }),
  weight: fc.constant(1),
})

describe('tone curves that a photo may have', () => {
  test('weigh 1 together', () => {
    expectClose(
      TONE_CURVES.reduce((sum, { weight }) => sum + weight, 0),
      1,
      1e-9,
    )
  })

  test('are undone by their inverse', () => {
    fc.assert(
      fc.property(curve, fc.double({ min: 0.001, max: 1, noNaN: true }), (one, light) => {
        expectClose(straightened(one, bent(one, light)), light, 1e-9)
      }),
    )
  })

  test.each(['srgb', 'display-p3'] as const)('are taken off a colour stored in %s', (space) => {
    fc.assert(
      fc.property(curve, (one) => {
        // Light in the channels of the file, bent, stored, decoded.
        const light: Triple = [0.6, 0.06, 0.02]
        const codes = light.map((v) => encodeTransfer(bent(one, v))) as unknown as Triple
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
    const ratio: ToneHypothesis = { kind: 'ratio', contrast: 1, shoulder: 0, weight: 1 }
    expect(ratioCorrection(ratio, [0.8, 0.3, 0.2], 'srgb')).toEqual({ green: 0, blue: 0 })
  })

  test('spread more the further red and green lie apart', () => {
    const near = correctionMoments([0.8, 0.6, 0.5], 'display-p3', 'green')
    const far = correctionMoments([0.8, 0.3, 0.2], 'display-p3', 'green')
    expect(far.variance).toBeGreaterThan(4 * near.variance)
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
    const estimate = temperature(reading(seen(1173), { linearity: single(0.27) }))
    expect(estimate.dominant).toBe('tone curve')
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
