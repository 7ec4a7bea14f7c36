import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  type LampInput,
  type LampTemperature,
  type LampTerm,
  lampTemperature,
  RATED_LAMPS,
  VOLTS_EXPONENT,
} from '../../src/physics/lamps.ts'
import type { MeterReading } from '../../src/physics/meters.ts'
import { tungstenColourTemperature, tungstenResistanceRatio } from '../../src/physics/tungsten.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

const exact = (value: number): MeterReading => ({
  value,
  percentOfReading: 0,
  digits: 0,
  resolution: 0,
})
const meter = (value: number, percentOfReading: number): MeterReading => ({
  ...exact(value),
  percentOfReading,
})
const rating = { colourTemperatureK: 2700, standardUncertaintyK: 25 }

function solved(lamp: LampInput): LampTemperature {
  const result = lampTemperature(lamp)
  if (!result.ok) throw new Error(`refused: ${result.code} ${result.given}`)
  return result
}
const term = (result: LampTemperature, code: LampTerm) =>
  result.contributions.find((c) => c.code === code)!.standardUncertainty

describe('a filament lamp', () => {
  it('at rated value has it, with its spread (common practice: 2700 K, halogen 3000 K)', () => {
    const lamp = solved({ method: 'rated', rating: RATED_LAMPS['general-service'] })
    expect([lamp.colourTemperatureK, lamp.standardUncertaintyK]).toEqual([2700, 40])
    expect(lamp.trueTemperatureK).toBeLessThan(2700)
    expectClose(tungstenColourTemperature(lamp.trueTemperatureK), 2700, 1e-9)
    expect(RATED_LAMPS.halogen.colourTemperatureK).toBe(3000)
  })

  it('follows volts with exponent 0.42 (IES Lighting Handbook)', () => {
    const lamp = solved({ method: 'volts', rating, ratedVolts: 230, volts: exact(184) })
    expectClose(lamp.colourTemperatureK, 2700 * 0.8 ** 0.42, 1e-12)
    expectClose(term(lamp, 'rated value'), 25 * 0.8 ** 0.42, 1e-9)
    // |ln 0.8| T u(exponent)
    expectClose(term(lamp, 'rating law volts'), 0.2231 * lamp.colourTemperatureK * 0.03, 1e-3)
  })

  it('by resistance states what coils do: 1 % by cold ends, a quarter of the way to black', () => {
    const lamp = solved({
      method: 'resistance',
      volts: exact(230),
      with: { amperes: exact(0.26) },
      coldOhms: exact(62),
      roomTemperatureK: 295,
    })
    // Limits of error as rectangular distributions (JCGM 100, 4.3.7); sizes are common practice.
    expectClose(term(lamp, 'end cooling'), (0.01 / Math.sqrt(3)) * lamp.colourTemperatureK, 0.05)
    const toBlack = lamp.colourTemperatureK - lamp.trueTemperatureK
    expectClose(term(lamp, 'emissivity'), (0.25 / Math.sqrt(3)) * toBlack, 0.03)
  })

  it('follows watts with exponent 0.42 / 1.6 (IES), so volts and their watts agree', () => {
    const byVolts = solved({ method: 'volts', rating, ratedVolts: 230, volts: exact(115) })
    const byWatts = solved({
      method: 'watts',
      rating,
      ratedWatts: 60,
      watts: exact(60 * 0.5 ** 1.6),
    })
    expectClose(byWatts.colourTemperatureK, byVolts.colourTemperatureK, 1e-12)
  })

  it('spreads by 3 % of its rated power, and by 1 K of the room, where nothing is said', () => {
    // Common practice for both; d ln T / d ln P = 0.42 / 1.6 (IES).
    const stated = { method: 'watts', rating, ratedWatts: 60, watts: exact(60) } as const
    const byWatts = solved(stated)
    expectClose(term(byWatts, 'rated watts'), 0.03 * (0.42 / 1.6) * 2700, 1e-3)
    const known = solved({ ...stated, ratedWattsPercent: 1 })
    expectClose(term(known, 'rated watts'), 0.01 * (0.42 / 1.6) * 2700, 1e-3)
    const base = {
      method: 'resistance',
      volts: exact(230),
      with: { amperes: exact(0.26) },
    } as const
    const byOhms = solved({ ...base, coldOhms: exact(62), roomTemperatureK: 300 })
    // R(310 K) / R(300 K) = 1.045 (temperature coefficient of tungsten 0.0045 / K at 20 °C, CRC, from
    // memory), and T ~ R^(1/1.2).
    expectClose(term(byOhms, 'room'), (0.0045 / 1.2) * byOhms.colourTemperatureK, 0.1)
  })

  it('dimmed by the IES law agrees with a balanced tungsten filament within its spread', () => {
    // Independent: V^2 / R(T) = radiation + gas, from 2000 to 2700 K true, with the resistance and
    // total emissivity tables (from memory); gas loss as the conductivity integral, ~ T^1.7.
    const total = { 2000: 0.26, 2700: 0.317 }
    const exponent = (gasShare: number) => {
      const volts = (t: 2000 | 2700) => {
        const radiation = (total[t] * t ** 4) / (total[2700] * 2700 ** 4)
        const gas = (t ** 1.7 - 300 ** 1.7) / (2700 ** 1.7 - 300 ** 1.7)
        return Math.sqrt(((1 - gasShare) * radiation + gasShare * gas) * tungstenResistanceRatio(t))
      }
      const colour = tungstenColourTemperature(2700) / tungstenColourTemperature(2000)
      return Math.log(colour) / Math.log(volts(2700) / volts(2000))
    }
    const { value, standardUncertainty } = VOLTS_EXPONENT
    // Gas-filled lamps lose a fifth to a third of their power to the gas (common practice).
    for (const share of [0.2, 0.27, 0.33])
      expect(Math.abs(exponent(share) - value)).toBeLessThan(standardUncertainty)
    expect(Math.abs(exponent(0) - value)).toBeLessThan(2.5 * standardUncertainty)
  })

  it('shows its temperature by hot over cold resistance (tungsten table)', () => {
    const cold = 70
    const trueK = 2500
    const hot = (cold * tungstenResistanceRatio(trueK)) / tungstenResistanceRatio(293.15)
    const base = { method: 'resistance', coldOhms: exact(cold), roomTemperatureK: 293.15 } as const
    const byAmperes = solved({ ...base, volts: exact(230), with: { amperes: exact(230 / hot) } })
    const byWatts = solved({ ...base, volts: exact(230), with: { watts: exact(230 ** 2 / hot) } })
    expectClose(byAmperes.trueTemperatureK, trueK, 1e-9)
    expectClose(byWatts.trueTemperatureK, trueK, 1e-9)
    expectPrinted(byAmperes.colourTemperatureK, '2557')
  })

  it('carries the meters: 1 % of resistance is 0.83 % of temperature, R ~ T^1.2 (table)', () => {
    const lamp = solved({
      method: 'resistance',
      volts: meter(230, 0),
      with: { amperes: meter(0.26, 2) },
      coldOhms: meter(62, 1),
      roomTemperatureK: 293.15,
    })
    const relative = (code: LampTerm) => term(lamp, code) / lamp.colourTemperatureK
    // d ln Tcolour / d ln Ttrue is a little above 1.
    expectClose(relative('amperes'), 0.02 / Math.sqrt(3) / 1.2, 0.05)
    expectClose(relative('cold ohms'), 0.01 / Math.sqrt(3) / 1.2, 0.05)
    const sum = Math.hypot(...lamp.contributions.map((c) => c.standardUncertainty))
    expectClose(lamp.standardUncertaintyK, sum, 1e-12)
    const sizes = lamp.contributions.map((c) => c.standardUncertainty)
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a))
  })

  it('widens on a phase-cut dimmer unless the meter is true rms', () => {
    const at = (kind: 'true-rms' | 'unknown') =>
      solved({
        method: 'volts',
        rating,
        ratedVolts: 230,
        volts: exact(115),
        phaseCut: { meter: kind, supplyVolts: 230 },
      })
    const sure = at('true-rms')
    const unsure = at('unknown')
    expect(unsure.colourTemperatureK).toBeGreaterThan(sure.colourTemperatureK)
    expect(unsure.standardUncertaintyK).toBeGreaterThan(1.5 * sure.standardUncertaintyK)
    expect(unsure.contributions[0]!.code).toBe('phase cut')
  })

  it('refuses what it cannot know, and says what is allowed', () => {
    const code = (lamp: LampInput) => {
      const result = lampTemperature(lamp)
      return result.ok ? 'ok' : result.code
    }
    expect(code({ method: 'volts', rating, ratedVolts: 230, volts: exact(0) })).toBe('not positive')
    expect(code({ method: 'volts', rating, ratedVolts: 230, volts: exact(30) })).toBe(
      'rating ratio out of range',
    )
    expect(code({ method: 'watts', rating, ratedWatts: 60, watts: exact(90) })).toBe(
      'rating ratio out of range',
    )
    expect(code({ method: 'rated', rating: { ...rating, colourTemperatureK: 6500 } })).toBe(
      'filament too hot',
    )
    const base = { method: 'resistance', volts: exact(230), with: { amperes: exact(1) } } as const
    expect(code({ ...base, coldOhms: exact(100), roomTemperatureK: 293 })).toBe('filament too cold')
    expect(code({ ...base, coldOhms: exact(10), roomTemperatureK: 293 })).toBe('filament too hot')
    expect(code({ ...base, coldOhms: exact(17), roomTemperatureK: 400 })).toBe('not cold')
  })

  it('gets hotter with volts and is always finite', () => {
    fc.assert(
      fc.property(fc.double({ min: 50, max: 270, noNaN: true }), (volts) => {
        const at = (v: number) =>
          solved({ method: 'volts', rating, ratedVolts: 230, volts: meter(v, 1.2) })
        const lamp = at(volts)
        expect(at(volts + 1).colourTemperatureK).toBeGreaterThan(lamp.colourTemperatureK)
        expect(Number.isFinite(lamp.standardUncertaintyK)).toBe(true)
        expect(lamp.trueTemperatureK).toBeLessThan(lamp.colourTemperatureK)
      }),
    )
  })
})
