import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { STEFAN_BOLTZMANN } from '../../../src/physics/constants.ts'
import { lossesAt, totalLoss } from '../../../src/physics/heat-balance/balance.ts'
import { bodyOf, coilWireLength } from '../../../src/physics/heat-balance/shape.ts'
import {
  type MeasuredShape,
  type SupplyInput,
  supplyTemperature,
} from '../../../src/physics/heat-balance/supply-temperature.ts'
import { materialById, totalEmissivity } from '../../../src/physics/materials.ts'
import { expectClose, expectPrinted } from '../../close-to.ts'

import { fecral, give, meter, nickelChromium, solved, sure } from './supply-inputs.ts'

const wire: MeasuredShape = { shape: 'wire', lengthM: give(1, 0.5), diameterM: give(8e-4, 1) }
const coil: MeasuredShape = {
  shape: 'coil',
  wireDiameterM: give(1e-3, 1),
  coilDiameterM: give(8e-3, 2),
  pitchM: give(2.5e-3, 4),
  turns: sure(60),
}
const ribbon: MeasuredShape = {
  shape: 'ribbon',
  lengthM: sure(0.5),
  widthM: give(5e-3, 2),
  thicknessM: give(2e-4, 5),
}
const anyInput: fc.Arbitrary<SupplyInput> = fc.record({
  object: fc.constantFrom(wire, coil, ribbon),
  surface: fc.constantFrom(nickelChromium, fecral, materialById('steel-oxidised')!),
  supply: fc
    .double({ min: 5, max: 1500, noNaN: true })
    .map((watts) => ({ watts: meter(watts, 2) })),
  room: fc
    .double({ min: 273, max: 313, noNaN: true })
    .map((k) => ({ value: k, standardUncertainty: 3 })),
  glowingShare: fc.constantFrom(sure(1), { value: 0.9, standardUncertainty: 0.05 }),
})

describe('a steady heat balance', () => {
  it('spends its power to 1e-9 on the three losses (conservation)', () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const t = solved(input)
        expectClose(t.radiationW + t.shieldW + t.convectionW, t.powerW, 1e-9)
      }),
    )
  })

  it('gets hotter with power, is finite, and names its largest term', () => {
    fc.assert(
      fc.property(anyInput, (input) => {
        const t = solved(input)
        expect(t.temperatureK).toBeGreaterThan(input.room.value)
        expect(Number.isFinite(t.standardUncertaintyK)).toBe(true)
        expect(t.standardUncertaintyK).toBeGreaterThan(0)
        const sizes = t.contributions.map((c) => c.standardUncertainty)
        expect(sizes).toEqual([...sizes].sort((a, b) => b - a))
        if (!input.supply.watts) return
        const more = { watts: meter(input.supply.watts.value * 1.01, 2) }
        expect(solved({ ...input, supply: more }).temperatureK).toBeGreaterThan(t.temperatureK)
      }),
      { numRuns: 40 },
    )
  })

  it('is Stefan-Boltzmann alone where convection is taken away (limit)', () => {
    const body = bodyOf({ shape: 'wire', lengthM: 1, diameterM: 1e-3 })
    const around = { roomK: 300, convectionScale: 0, openness: 0.5 }
    const loss = totalLoss(lossesAt(body, 1000, 1, around))
    expectClose(loss, STEFAN_BOLTZMANN * Math.PI * 1e-3 * (1000 ** 4 - 300 ** 4), 1e-12)
  })

  it('radiates 421 W/m from the pipe of Incropera example 1.2 (from memory)', () => {
    // 70 mm, 200 °C, e 0.8, room 25 °C.
    const body = bodyOf({ shape: 'rod', lengthM: 1, diameterM: 0.07 })
    const around = { roomK: 298, convectionScale: 1, openness: 0.5 }
    expectPrinted(lossesAt(body, 473, 0.8, around).radiationW, '421')
  })

  it('loses 325 W/m to the air and 441 by radiation from the steam pipe of Incropera example 9.4 (from memory)', () => {
    // 165 °C, 0.1 m, e 0.85, 23 °C. The book has no temperature loading (1.037 at this film) and
    // rounds on the way, see the Nusselt number.
    const body = bodyOf({ shape: 'rod', lengthM: 1, diameterM: 0.1 })
    const losses = lossesAt(body, 438, 0.85, { roomK: 296, convectionScale: 1, openness: 0.5 })
    expectPrinted(losses.radiationW, '441')
    expectClose(losses.convectionW / (367 / 296) ** 0.17, 325, 0.02)
  })

  it('loses 442 W by convection from the pipe of Çengel example 9-1 (from memory)', () => {
    // 6 m, 8 cm, 70 °C in 20 °C. The book's table of air conducts 2 % less than ours at 45 °C.
    const body = bodyOf({ shape: 'rod', lengthM: 6, diameterM: 0.08 })
    const around = { roomK: 293.15, convectionScale: 1, openness: 0.5 }
    const losses = lossesAt(body, 343.15, 1, around)
    expectClose(losses.convectionW / (318.15 / 293.15) ** 0.17, 442, 0.02)
    expectPrinted(lossesAt(body, 343, 1, { ...around, roomK: 293 }).radiationW, '553')
  })
})

describe('supply temperature', () => {
  const room = { value: 293, standardUncertainty: 2 }

  it('of a made-up element of 1 mm coiled wire: 400 W make it glow between 900 and 1300 K', () => {
    const t = solved({ object: coil, surface: fecral, supply: { watts: meter(400, 2) }, room })
    expect(t.temperatureK).toBeGreaterThan(900)
    expect(t.temperatureK).toBeLessThan(1300)
    expect(t.escape).toBeGreaterThan(0.5)
    expect(t.escape).toBeLessThan(0.85)
    expect(t.contributions.map((c) => c.code)).toContain('coil self view')
    // Wire: 60 turns of a helix.
    expectClose(
      coilWireLength({ coilDiameterM: 8e-3, pitchM: 2.5e-3, turns: 60 }),
      60 * Math.hypot(Math.PI * 8e-3, 2.5e-3),
      1e-12,
    )
  })

  it('rises when turns move together and when a shield hides the room', () => {
    const at = (object: MeasuredShape, shield?: NonNullable<SupplyInput['shield']>) =>
      solved({
        object,
        surface: fecral,
        supply: { watts: meter(400) },
        room,
        ...(shield && { shield }),
      }).temperatureK
    const open = at(coil)
    expect(at({ ...coil, pitchM: sure(1.2e-3) })).toBeGreaterThan(open)
    const hot = at(coil, { share: give(0.4, 10) })
    const cold = at(coil, {
      share: give(0.4, 10),
      temperature: { value: 600, standardUncertainty: 50 },
    })
    expect(hot).toBeGreaterThan(cold)
    expect(cold).toBeGreaterThan(open)
    // In a closed tube the air is as hot as the tube: less goes to it than to the room's.
    const tube = { share: give(0.4, 10), temperature: { value: 900, standardUncertainty: 50 } }
    expect(at(coil, { ...tube, airShare: 1 })).toBeGreaterThan(at(coil, tube) + 20)
  })

  it('gives no heat to the air of a tube that is as hot as itself', () => {
    const around = { roomK: 293, convectionScale: 1, openness: 0.5 }
    const losses = (airShare: number) =>
      lossesAt(bodyOf({ shape: 'wire', lengthM: 1, diameterM: 8e-4 }), 1200, 0.9, {
        ...around,
        shield: { share: 0.5, temperatureK: 1200, airShare },
      })
    expect(losses(1).convectionW).toBe(0)
    expectClose(losses(0.5).convectionW, losses(0).convectionW / 2, 1e-12)
    expect(losses(1).shieldW).toBe(0)
  })

  it('takes volts times amperes, and more on a phase-cut dimmer with simple meters', () => {
    const supply = { volts: meter(115), amperes: meter(2) }
    const plain = solved({ object: wire, surface: nickelChromium, supply, room })
    const watts = solved({
      object: wire,
      surface: nickelChromium,
      supply: { watts: meter(230) },
      room,
    })
    expectClose(plain.temperatureK, watts.temperatureK, 1e-12)
    const phaseCut = { meter: 'average-responding', supplyVolts: 230 } as const
    const cut = solved({
      object: wire,
      surface: nickelChromium,
      supply: { ...supply, phaseCut },
      room,
    })
    // Half the wave: the effective value is sqrt(2) times what is shown, so twice the power.
    expectClose(cut.powerW, 460, 1e-9)
    expect(cut.standardUncertaintyK).toBeGreaterThan(plain.standardUncertaintyK)
  })

  it('propagates numerically what the derivative says: dT/T = (dP/P) / (d ln loss / d ln T)', () => {
    const input: SupplyInput = {
      object: wire,
      surface: sure(0.88),
      supply: { watts: meter(300, 1) },
      room,
    }
    const t = solved(input)
    const body = bodyOf({ shape: 'wire', lengthM: 1, diameterM: 8e-4 })
    const loss = (k: number) =>
      totalLoss(lossesAt(body, k, 0.88, { roomK: 293, convectionScale: 1, openness: 0.5 }))
    const steep =
      (Math.log(loss(t.temperatureK * 1.001)) - Math.log(loss(t.temperatureK))) / Math.log(1.001)
    const watts = t.contributions.find((c) => c.code === 'watts')!
    expectClose(watts.standardUncertainty, (t.temperatureK * 0.01) / Math.sqrt(3) / steep, 2e-3)
  })

  it('refuses what makes no balance and names the term', () => {
    const base: SupplyInput = { object: wire, surface: fecral, supply: { watts: meter(100) }, room }
    const code = (change: Partial<SupplyInput>) => {
      const result = supplyTemperature({ ...base, ...change })
      return result.ok ? 'ok' : `${result.code} ${result.term ?? ''}`.trim()
    }
    expect(code({ supply: { watts: meter(0) } })).toBe('not positive watts')
    expect(code({ object: { shape: 'wire', lengthM: sure(1) } })).toBe('measure missing diameterM')
    expect(code({ object: { ...coil, pitchM: sure(5e-4) } })).toBe('turns overlap pitchM')
    expect(code({ surface: materialById('copper-clean')! })).toBe('emissivity unknown emissivity')
    expect(code({ surface: sure(1.2) })).toBe('share out of range emissivity')
    expect(code({ glowingShare: sure(0) })).toBe('share out of range glowing share')
    expect(code({ supply: { watts: meter(1e7) } })).toBe('power too high')
    const cellar = { share: sure(0.9), temperature: sure(250) }
    expect(code({ supply: { watts: meter(1) }, shield: cellar })).toBe('ok')
  })

  it('uses the total emissivity of the surface at its own temperature', () => {
    const t = solved({ object: wire, surface: nickelChromium, supply: { watts: meter(300) }, room })
    expectClose(t.emissivity, totalEmissivity(nickelChromium, t.temperatureK)!.value, 1e-12)
  })
})
