import { describe, expect, it } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { levelMatch } from '../../src/estimate/matched-level.ts'
import { ratioCorrection, TONE_CURVES } from '../../src/estimate/tone-curve-prior.ts'
import type { Linearity } from '../../src/estimate/types.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { reading, reference, seen } from './inputs.ts'

/** Codes of a glow with this stored red and linear G/R. */
const levels = (red: number, greenOverRed: number): Triple => {
  const light = decodeTransfer(red)
  return [red, encodeTransfer(greenOverRed * light), encodeTransfer(0.02 * light)]
}
const single = (red: number, curveId = 'curve'): Linearity => ({
  kind: 'single',
  curveId,
  storedLevels: levels(red, 0.1),
  space: 'display-p3',
})
const heat = (id: string, linearity: Linearity, change = {}) =>
  reference(1073.6, 6, seen(1073.6), { id, linearity, ...change })
const glow = (linearity: Linearity, references: ReturnType<typeof heat>[]) =>
  levelMatch(reading(seen(1173), { linearity, references }))

describe('the level of a reading beside its known heats', () => {
  it('is that of the nearest one on the same curve', () => {
    const match = glow(single(0.6), [heat('dark', single(0.3)), heat('near', single(0.65))])
    expect(match).toMatchObject({ referenceId: 'near', reading: 0.6, reference: 0.65 })
    expect(match?.matched).toBe(true)
    expect(glow(single(0.6), [heat('dark', single(0.3))])?.matched).toBe(false)
  })

  it('says nothing of linear light, another curve, or a heat that does not count', () => {
    expect(glow({ kind: 'raw' }, [heat('h', single(0.6))])).toBeNull()
    expect(glow(single(0.6), [heat('h', single(0.6, 'other'))])).toBeNull()
    expect(glow(single(0.6), [heat('h', { kind: 'linear' })])).toBeNull()
    expect(glow(single(0.6), [heat('h', single(0.6), { cameraId: 'another' })])).toBeNull()
  })

  it('alike leaves about a third of what the tone curve costs, over the prior of curves', () => {
    const spread = (values: readonly number[]) => {
      const mean = values.reduce((sum, v, i) => sum + TONE_CURVES[i]!.weight * v, 0)
      return Math.sqrt(
        values.reduce((sum, v, i) => sum + TONE_CURVES[i]!.weight * (v - mean) ** 2, 0),
      )
    }
    const corrections = (red: number, greenOverRed: number) =>
      TONE_CURVES.map(
        (curve) => ratioCorrection(curve, levels(red, greenOverRed), 'display-p3').green,
      )
    for (const red of [0.4, 0.6, 0.75]) {
      const alone = corrections(red, 0.11)
      for (const apart of [-0.1, 0, 0.1]) {
        const beside = corrections(red + apart, 0.075)
        const left = spread(alone.map((v, i) => v - beside[i]!))
        // Of curves on each channel alone a fifth is left; those that keep hue leave more of a smaller error.
        expect(left).toBeLessThan(0.39 * spread(alone))
      }
    }
  })
})
