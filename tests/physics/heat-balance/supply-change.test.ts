import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  type ChangeLaw,
  compareSupplyChange,
  predictChange,
  type SupplyReading,
} from '../../../src/physics/heat-balance/supply-change.ts'
import { supplyTemperature } from '../../../src/physics/heat-balance/supply-temperature.ts'
import { materialById } from '../../../src/physics/materials.ts'
import { expectClose } from '../../close-to.ts'

const sure = (value: number) => ({ value, standardUncertainty: 0 })
const radiationOnly: ChangeLaw = { kind: 'heater', roomK: 293, convectionShare: sure(0) }
const heater: ChangeLaw = {
  kind: 'heater',
  roomK: 293,
  convectionShare: { value: 0.25, standardUncertainty: 0.08 },
}
const reading = (temperatureK: number, supply: number, own = 4): SupplyReading => ({
  temperatureK,
  ownUncertaintyK: own,
  supply: { value: supply, standardUncertainty: supply * 0.01 },
})

describe('change with supply', () => {
  it('follows the fourth root of power where radiation is all (Stefan-Boltzmann)', () => {
    const law: ChangeLaw = { kind: 'heater', roomK: 1, convectionShare: sure(0) }
    const twice = predictChange(reading(1000, 100), sure(200), 'watts', law)
    expectClose(twice.value, 1000 * 2 ** 0.25, 1e-9)
  })

  it('follows the lamp exponents 0.42 and 0.42 / 1.6 (IES Lighting Handbook)', () => {
    const lamp: ChangeLaw = { kind: 'lamp' }
    expectClose(
      predictChange(reading(2700, 230), sure(115), 'volts', lamp).value,
      2700 * 0.5 ** 0.42,
      1e-12,
    )
    expectClose(
      predictChange(reading(2700, 60), sure(30), 'watts', lamp).value,
      2700 * 0.5 ** (0.42 / 1.6),
      1e-12,
    )
  })

  it('agrees with the full heat balance of a wire within its stated spread', () => {
    const at = (watts: number) => {
      const t = supplyTemperature({
        object: {
          shape: 'wire',
          lengthM: { value: 1, standardUncertainty: 0.005 },
          diameterM: { value: 8e-4, standardUncertainty: 8e-6 },
        },
        surface: materialById('nickel-chromium-oxidised')!,
        supply: { watts: { value: watts, percentOfReading: 0, digits: 0, resolution: 0 } },
        room: { value: 293, standardUncertainty: 2 },
      })
      if (!t.ok) throw new Error(t.code)
      return t
    }
    const base = at(300)
    const law: ChangeLaw = {
      kind: 'heater',
      roomK: 293,
      convectionShare: { value: base.convectionW / base.powerW, standardUncertainty: 0.05 },
    }
    for (const watts of [150, 220, 400, 550]) {
      const predicted = predictChange(
        { temperatureK: base.temperatureK, ownUncertaintyK: 0, supply: sure(300) },
        sure(watts),
        'watts',
        law,
      )
      expect(Math.abs(predicted.value - at(watts).temperatureK)).toBeLessThan(6)
    }
  })

  it('says agrees, too little, too much, or too close to tell', () => {
    const says = (...readings: SupplyReading[]) =>
      compareSupplyChange(readings, 'watts', heater).verdict
    const expected = predictChange(reading(1100, 100), sure(150), 'watts', heater).value
    expect(says(reading(1100, 100), reading(expected, 150))).toBe('agrees')
    expect(says(reading(1100, 100), reading(1110, 150))).toBe('changes too little')
    expect(says(reading(1100, 100), reading(2 * expected - 1100, 150))).toBe('changes too much')
    expect(says(reading(1100, 100), reading(1102, 101))).toBe('too close to tell')
    // Downwards the same words hold.
    expect(says(reading(expected, 150), reading(expected - 5, 100))).toBe('changes too little')
    expect(() => compareSupplyChange([reading(1100, 100)], 'watts', heater)).toThrow(RangeError)
  })

  it('names the later reading that does not fit among several', () => {
    const expected = (watts: number) =>
      predictChange(reading(1000, 100), sure(watts), 'watts', heater).value
    const { steps, verdict } = compareSupplyChange(
      [reading(1000, 100), reading(expected(130), 130), reading(expected(180) + 60, 180)],
      'watts',
      heater,
    )
    expect(verdict).toBe('changes too much')
    expect(Math.abs(steps[0]!.standardisedDifference)).toBeLessThan(0.1)
    expect(steps[1]!.standardisedDifference).toBeGreaterThan(2)
  })

  it('rises with supply, does nothing at no change, and is finite', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 700, max: 1600, noNaN: true }),
        fc.double({ min: 0.3, max: 3, noNaN: true }),
        fc.constantFrom(heater, radiationOnly, { kind: 'lamp' } as const),
        fc.constantFrom('volts' as const, 'watts' as const),
        (t, ratio, law, quantity) => {
          const from = reading(t, 100)
          const there = predictChange(from, sure(100 * ratio), quantity, law)
          expect(Number.isFinite(there.standardUncertainty)).toBe(true)
          const more = predictChange(from, sure(101 * ratio), quantity, law)
          expect(more.value).toBeGreaterThan(there.value)
          expectClose(predictChange(from, sure(100), quantity, law).value, t, 1e-9)
        },
      ),
    )
  })
})
