import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  apparentEmissivity,
  COIL_ESCAPE_RELATIVE_UNCERTAINTY,
  coilEscape,
  discToDisc,
  gridIntercept,
} from '../../../src/physics/heat-balance/view-factor.ts'
import { expectClose, expectPrinted } from '../../close-to.ts'
import { seeded, traceCoilEscape } from './trace-coil.ts'

const coil = fc.record({
  wireDiameterM: fc.constant(1e-3),
  coilDiameterM: fc.double({ min: 3e-3, max: 0.05, noNaN: true }),
  pitchM: fc.double({ min: 1e-3, max: 0.02, noNaN: true }),
  turns: fc.integer({ min: 3, max: 100 }),
})

describe('view factors', () => {
  it('of a row of rods are 1 touching, 0.6576 at pitch 2 d, pi/2 d/p far apart (Hottel; limits)', () => {
    expect(gridIntercept(1)).toBe(1)
    // 1 - sqrt(3)/2 + pi/6
    expectPrinted(gridIntercept(0.5), '0.6576')
    expectClose(gridIntercept(1e-4) / 1e-4, Math.PI / 2, 1e-4)
  })

  it('of two discs a diameter apart are 0.1716, 3 - 2 sqrt(2) (exact, tables of view factors)', () => {
    expectPrinted(discToDisc(1, 2), '0.1716')
    expectClose(discToDisc(1, 1e-3), 1, 2e-3)
  })

  it('of a coil are 1 when wide open and 1/pi when long, wide and closed (exact limits)', () => {
    const base = { wireDiameterM: 1e-3, coilDiameterM: 0.02, turns: 50 }
    expectClose(coilEscape({ ...base, pitchM: 1 }), 1, 2e-3)
    const closed = { wireDiameterM: 1e-5, coilDiameterM: 0.1, pitchM: 1e-5, turns: 1e7 }
    expectClose(coilEscape(closed), 1 / Math.PI, 2e-3)
    // One ring alone sees itself only across: nearly all escapes.
    expect(coilEscape({ ...base, pitchM: 0.005, turns: 1 })).toBeGreaterThan(0.9)
  })

  it('of coils agree with ray tracing within twice the stated uncertainty and its noise', () => {
    const random = seeded(20240501)
    const rays = 12000
    for (const turns of [3, 8, 40])
      for (const wide of [3, 6, 15])
        for (const pitch of [1.05, 1.6, 3]) {
          const shape = { wireDiameterM: 1, coilDiameterM: wide, pitchM: pitch, turns }
          const traced = traceCoilEscape(shape, rays, random)
          const noise = 3 * Math.sqrt((1 - traced) / (traced * rays))
          expectClose(
            coilEscape(shape),
            traced,
            2 * COIL_ESCAPE_RELATIVE_UNCERTAINTY + noise,
            JSON.stringify(shape),
          )
        }
  })

  it('of a coil grow with the pitch and stay within 0..1', () => {
    fc.assert(
      fc.property(coil, (shape) => {
        const share = coilEscape(shape)
        expect(share > 0 && share <= 1).toBe(true)
        expect(coilEscape({ ...shape, pitchM: shape.pitchM * 1.05 })).toBeGreaterThanOrEqual(
          share - 1e-12,
        )
      }),
    )
  })
})

describe('apparent emissivity', () => {
  it('is the emissivity in the open, the view factor when black, and lies between', () => {
    expectClose(apparentEmissivity(0.7, 1), 0.7, 1e-12)
    expectClose(apparentEmissivity(1, 0.4), 0.4, 1e-12)
    fc.assert(
      fc.property(
        fc.double({ min: 0.01, max: 1, noNaN: true }),
        fc.double({ min: 0.1, max: 1, noNaN: true }),
        (e, f) => {
          const apparent = apparentEmissivity(e, f)
          expect(apparent).toBeLessThanOrEqual(Math.min(e, f) * (1 + 1e-12))
          expect(apparent).toBeGreaterThanOrEqual(e * f * (1 - 1e-12))
        },
      ),
    )
  })
})
