import { describe, expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraPosterior, mostProbable } from '../../src/estimate/camera-posterior.ts'
import { expectedRatios } from '../../src/estimate/expected-ratios.ts'
import { glowProblem } from '../../src/estimate/glow-problem.ts'
import { leakAfterTests } from '../../src/estimate/infrared-leak.ts'
import { leakEstimate } from '../../src/estimate/leak-estimate.ts'
import { otherSalt } from '../../src/estimate/mistaken-salt.ts'
import type { GlowInput } from '../../src/estimate/types.ts'
import { expectClose } from '../close-to.ts'
import { reading, reference, salt, seen } from './inputs.ts'

const known = (change: Partial<GlowInput> = {}) =>
  cameraPosterior(glowProblem(reading(seen(1173), change), CAMERA_LOCUS))

describe('what is known of a camera', () => {
  test('of its leak without anything is the prior: its median and bounds', () => {
    const found = leakEstimate(known())
    const prior = leakAfterTests([])
    // Ranges as normals of the same moments: a third of a decade wide.
    for (const of of ['median', 'high95'] as const)
      expect(Math.abs(Math.log(found[of] / prior[of]))).toBeLessThan(0.35)
    // The lowest one runs on to nothing.
    expect(found.low95).toBeLessThan(prior.low95)
  })

  test('of its leak after a picture of a plate is what that says', () => {
    const measured = { leak: 1e-3, lnSd: 0.3 }
    const leakTests = [{ test: 'hot plate', seen: true, measured }] as const
    const found = leakEstimate(known({ leakTests }))
    expect(Math.abs(Math.log(found.median / 1e-3))).toBeLessThan(0.3)
    // Whole ranges of 2.5 times are weighed: 95 % within two of them.
    expect(found.low95).toBeGreaterThan(2.5e-4)
    expect(found.high95).toBeLessThan(4e-3)
    expect(found.low95).toBeLessThan(found.median)
    expect(found.high95).toBeGreaterThan(found.median)
  })

  test('of its colours with a known heat is what was seen of that', () => {
    for (const offset of [-1, 1]) {
      const at = expectedRatios(known({ references: [salt(offset)], faithfulColours: true }))
      const { mean } = seen(1073.6, offset)
      expectClose(at(1073.6).green, mean[1] / mean[0], 0.02)
      expectClose(at(1073.6).blue, mean[2] / mean[0], 0.15)
      const far = seen(1273, offset).mean
      expectClose(at(1273).green, far[1] / far[0], 0.06)
    }
  })

  test('in raw channels is a ratio as well', () => {
    const posterior = known({ channels: 'camera', linearity: { kind: 'raw' } })
    const at = expectedRatios(posterior)
    const { model } = posterior.problem
    expectClose(at(1500).green, Math.exp(model.green(1500).mean), 0.05)
    expectClose(at(1500).blue, Math.exp(model.blue(1500).mean), 0.1)
  })

  test('is kept where the least likely ways to be are left out', () => {
    const all = known({ references: [salt()] })
    const most = mostProbable(all)
    expect(most.hypotheses.length).toBeLessThan(all.hypotheses.length)
    const sum = most.hypotheses.reduce((total, { weight }) => total + weight, 0)
    expect(sum).toBeCloseTo(1, 9)
    const [a, b] = [leakEstimate(all), leakEstimate(most)]
    expectClose(b.median, a.median, 0.02)
  })
})

describe('a salt that may have been another', () => {
  const lamp = reference(2700, 25, seen(2700), { id: 'lamp', group: 'lamp' })
  /** Roberts 1924: sodium sulfate melts at 884.7 °C; photographed at this temperature instead. */
  const shown = (kelvin: number, others = [lamp], labelled = 1157.85) =>
    otherSalt(
      glowProblem(
        reading(seen(1173), {
          references: [reference(labelled, 6, seen(kelvin), { id: 'salt' }), ...others],
        }),
        CAMERA_LOCUS,
      ),
      0,
    )

  test('is told from a chance of one in a hundred on', () => {
    let [right, wrong] = [1157.85, 1073.55]
    for (let i = 0; i < 9; i++) {
      const middle = (right + wrong) / 2
      if (shown(middle)) wrong = middle
      else right = middle
    }
    expect(shown(right)).toBeNull()
    // Half a kelvin of one, and the chance rises by a few hundredths of itself.
    expectClose(shown(wrong)!.chance, 0.01, 0.1)
  })

  test('is the one that fits best, with how much hotter it is', () => {
    const found = shown(1073.55)!
    expect(found.id).toBe('sodium-chloride')
    expectClose(found.hotterK, 1073.55 - 1157.85, 0.01)
    expect(found.chance).toBeGreaterThan(0.05)
    expect(found.chance).toBeLessThan(1)
    // Potassium sulfate, 1069 °C.
    expect(shown(1342)!.id).toBe('potassium-sulfate')
    expect(shown(1342)!.hotterK).toBeGreaterThan(150)
  })

  test('is never told of a heat that is no salt’s, or without another reference', () => {
    expect(shown(1073.55, [lamp], 1170)).toBeNull()
    expect(shown(1073.55, [])).toBeNull()
    // Another photo of the same jar is no other reference.
    const jar = reference(1157.85, 6, seen(1073.55), { id: 'again' })
    expect(shown(1073.55, [jar])).toBeNull()
    expect(shown(1073.55, [jar, lamp])!.id).toBe('sodium-chloride')
  })

  test('is not one that melts within 50 K of the label: it would mislead little', () => {
    // Potassium chloride melts 30 K below sodium chloride.
    const found = shown(1043, [lamp], 1073.55)
    expect(found?.id).not.toBe('potassium-chloride')
  })
})
