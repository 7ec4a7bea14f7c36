import { describe, expect, it } from 'vitest'
import { supplyTemperature } from '../../../src/physics/heat-balance/supply-temperature.ts'
import {
  createSupplyModel,
  type SupplyForm,
  supplyInputOf,
} from '../../../src/session/check/supply-model.ts'

const typed = (value: number, plusMinus: number | null = null) => ({ value, plusMinus })
/** A straight 0.5 mm nickel-chromium wire of 300 mm at 60 W (made up). */
const wire = (change: Partial<SupplyForm> = {}): SupplyForm => ({
  ...createSupplyModel().form.peek(),
  measures: { lengthM: typed(300), diameterM: typed(0.5) },
  materialId: 'nickel-chromium-oxidised',
  volts: typed(12),
  amperes: typed(5),
  ...change,
})
const solved = (form: SupplyForm) => {
  const input = supplyInputOf(form)
  if (!input) throw new Error('a number is missing')
  const found = supplyTemperature(input)
  if (!found.ok) throw new Error(found.code)
  return found
}

describe('the supply form', () => {
  it('counts what is usual where a ± is left empty, and what was typed where it is not', () => {
    const usual = solved(wire())
    const codes = usual.contributions.map(({ code }) => code)
    for (const code of ['lengthM', 'diameterM', 'volts', 'amperes', 'glowing share', 'room'])
      expect(codes).toContain(code)
    const sure = solved(
      wire({ measures: { lengthM: typed(300, 0.5), diameterM: typed(0.5, 0.001) } }),
    )
    expect(sure.temperatureK).toBeCloseTo(usual.temperatureK, 9)
    expect(sure.standardUncertaintyK).toBeLessThan(usual.standardUncertaintyK)
  })

  it('counts a meter as exactly as it was typed, and nothing of one that shows 0', () => {
    const nothing = { value: null, plusMinus: null }
    const by = (plusMinus: number) =>
      solved(wire({ volts: nothing, amperes: nothing, watts: typed(60, plusMinus) }))
    // Typed is a standard uncertainty, beside what leads and ends leave open of the power.
    const squared = (plusMinus: number) => by(plusMinus).powerUncertaintyW ** 2
    expect(squared(3) - squared(0.3)).toBeCloseTo(3 ** 2 - 0.3 ** 2, 6)
    expect(supplyInputOf(wire({ watts: typed(0, 3) }))?.supply).toMatchObject({
      watts: { value: 0, percentOfReading: 0 },
    })
  })

  it('takes watts, or volts and amperes, or all three; volts alone are not enough', () => {
    const nothing = { value: null, plusMinus: null }
    expect(supplyInputOf(wire({ amperes: nothing }))).toBeNull()
    // The surface changes the figure: it is never taken unsaid.
    expect(supplyInputOf(wire({ materialId: '' }))).toBeNull()
    expect(supplyInputOf(wire({ materialId: 'not-known' }))).not.toBeNull()
    const byWatts = solved(wire({ volts: nothing, amperes: nothing, watts: typed(60) }))
    expect(byWatts.powerW).toBeCloseTo(60, 9)
    const all = solved(wire({ watts: typed(60) }))
    expect(all.powerW).toBeCloseTo(60, 9)
    expect(all.powerUncertaintyW).toBeLessThan(byWatts.powerUncertaintyW)
    expect(all.powerUncertaintyW).toBeLessThan(solved(wire()).powerUncertaintyW)
  })

  it('begins with what the reading that is asked about says, and keeps what was typed', () => {
    const model = createSupplyModel()
    model.form.value = { ...model.form.peek(), volts: typed(11) }
    const supply = { volts: 12, amperes: 5, watts: null }
    model.begin({ material: 'nickel-chromium-oxidised', supply })
    expect(model.form.value).toMatchObject({
      materialId: 'nickel-chromium-oxidised',
      volts: typed(11),
      amperes: typed(5),
      watts: { value: null },
    })
  })

  it('gives no figure where wattmeter and volts times amperes contradict each other', () => {
    const input = supplyInputOf(wire({ watts: typed(45) }))!
    expect(supplyTemperature(input)).toMatchObject({
      ok: false,
      code: 'supply contradicts',
      power: { byWatts: { value: 45 }, byVoltsAndAmperes: { value: 60 } },
    })
  })

  it('knows a coil in quartz by what the tube usually takes: hotter than in the open', () => {
    const measures = {
      wireDiameterM: typed(1),
      coilDiameterM: typed(8),
      pitchM: typed(3),
      turns: typed(60),
    }
    const coil = (element: SupplyForm['element'], change: Partial<SupplyForm> = {}) =>
      solved(
        wire({
          element,
          measures,
          watts: typed(500),
          volts: typed(230, 3),
          amperes: typed(2.17),
          ...change,
        }),
      )
    const open = coil('coil')
    const quartz = coil('coil in quartz')
    expect(quartz.temperatureK).toBeGreaterThan(open.temperatureK)
    expect(quartz.contributions.map(({ code }) => code)).toContain('shield share')
    // A shield whose own temperature is stated counts by it: the colder, the more it takes.
    const cold = coil('coil in quartz', { coverC: typed(300) })
    expect(cold.temperatureK).toBeLessThan(quartz.temperatureK)
    // The air in the tube is as hot as the tube, so that little goes to it.
    expect(quartz.convectionW).toBeLessThan(0.4 * open.convectionW)
    expect(quartz.contributions[0]?.code).toBe('shield temperature')
  })
})
