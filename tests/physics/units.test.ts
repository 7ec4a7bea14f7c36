import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  celsiusFromKelvin,
  differenceFromUnit,
  differenceInUnit,
  fahrenheitFromKelvin,
  kelvinFromCelsius,
  kelvinFromFahrenheit,
  temperatureFromUnit,
  temperatureInUnit,
} from '../../src/physics/units.ts'
import { expectPrinted } from '../close-to.ts'

const units = fc.constantFrom('C' as const, 'F' as const, 'K' as const)

describe('temperature units', () => {
  it('puts 0 °C at 273.15 K and 32 °F (SI Brochure 9, 2.3.1)', () => {
    expect(kelvinFromCelsius(0)).toBe(273.15)
    expect(kelvinFromFahrenheit(32)).toBe(273.15)
  })

  it('has -40 in common and 1000 °C at 1832 °F (definition)', () => {
    expectPrinted(kelvinFromFahrenheit(-40), '233.15')
    expectPrinted(fahrenheitFromKelvin(kelvinFromCelsius(1000)), '1832')
    expectPrinted(celsiusFromKelvin(1357.77), '1084.62')
  })

  it('round-trips temperatures and differences in every unit', () => {
    fc.assert(
      fc.property(units, fc.double({ min: 0, max: 5000, noNaN: true }), (unit, kelvin) => {
        expect(temperatureFromUnit(temperatureInUnit(kelvin, unit), unit)).toBeCloseTo(kelvin, 9)
        expect(differenceFromUnit(differenceInUnit(kelvin, unit), unit)).toBeCloseTo(kelvin, 9)
      }),
    )
  })

  it('scales a difference without shifting it', () => {
    expect(differenceInUnit(10, 'F')).toBe(18)
    expect(differenceInUnit(10, 'C')).toBe(10)
  })
})
