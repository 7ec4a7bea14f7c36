import { describe, expect, it } from 'vitest'
import { remainingUncertainty } from '../../src/estimate/remaining-uncertainty.ts'
import { reading, reference, salt, seen, temperature } from './inputs.ts'

const PIECE = { id: 'steel', lnGreenOverRed: 0, standardUncertainty: 0.01 }
const worked = (like: ReturnType<typeof reading>, temperaturesK: readonly number[]) => {
  const steps = remainingUncertainty(like, temperaturesK)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

describe('what is left of a camera’s uncertainty', () => {
  it('is what a reading at that temperature states, and its causes add up to it', () => {
    const [column] = worked(reading(seen(1173), { surface: PIECE }), [1173])
    const stated = temperature(reading(seen(1173), { surface: PIECE })).standardUncertaintyK
    // The photo is supposed with ordinary noise and within 3 K: a hundredth apart.
    expect(column!.nowK! / stated).toBeGreaterThan(0.97)
    expect(column!.nowK! / stated).toBeLessThan(1.03)
    const squares = column!.causes.reduce((sum, one) => sum + one.standardUncertaintyK ** 2, 0)
    expect(Math.sqrt(squares)).toBeCloseTo(column!.nowK!, 6)
  })

  it('shrinks with every step, most with salt, and more where brightness joins', () => {
    const [column] = worked(reading(seen(1173), { surface: PIECE }), [1173])
    const after = new Map(column!.after.map((one) => [one.step, one.standardUncertaintyK]))
    for (const u of after.values()) expect(u).toBeLessThanOrEqual(column!.nowK! * 1.001)
    // Its melt is known to 6 K, the camera alone to some 50.
    expect(after.get('salt')).toBeLessThan(0.3 * column!.nowK!)
    expect(after.get('salt as bright')).toBeLessThan(after.get('salt')!)
    // Straight light and a card are there already.
    expect(after.has('straight light')).toBe(false)
    expect(after.has('grey card')).toBe(false)
  })

  it('lets known heats count by a locked balance, where it is not fixed yet', () => {
    const balanceState = { kind: 'unknown', colourTemperatureK: null } as const
    const like = reading(seen(1173), { surface: PIECE, balance: null, balanceState })
    const [column] = worked(like, [1173])
    const after = new Map(column!.after.map((one) => [one.step, one.standardUncertaintyK]))
    expect(after.get('lock')).toBeLessThan(column!.nowK!)
    expect(after.get('salt')).toBeLessThan(0.5 * after.get('lock')!)
  })

  it('leaves out what is done, and gives a dash where there is no reading', () => {
    const like = reading(seen(1173), { surface: PIECE, references: [salt()] })
    const columns = worked(like, [1173, 3150])
    expect(columns[0]!.after.map(({ step }) => step)).not.toContain('salt')
    expect(columns[0]!.after.map(({ step }) => step)).toContain('copper')
    expect(columns).toHaveLength(2)
  })

  it('counts a melt as done where a known heat of this camera lies within 25 K of it', () => {
    const offered = (ofSalt: number, ofCopper: number, cameraId = 'phone') => {
      const references = [1073.6 + ofSalt, 1357.8 + ofCopper].map((kelvin) =>
        reference(kelvin, 6, seen(kelvin), { cameraId }),
      )
      const [column] = worked(reading(seen(1173), { surface: PIECE, references }), [1173])
      return column!.after.map(({ step }) => step).filter((step) => /^(salt|copper)$/.test(step))
    }
    expect(offered(24, -26)).toEqual(['copper'])
    expect(offered(-26, 24)).toEqual(['salt'])
    expect(offered(0, 0, 'another')).toEqual(['salt', 'copper'])
  })
})
