import { describe, expect, test } from 'vitest'
import { lampTemperature } from '../../../src/physics/lamps.ts'
import {
  FIRST_FORM,
  formOfLamp,
  type LampForm,
  lampInputOf,
  lampToKeep,
  ratingOf,
  readDisplay,
} from '../../../src/session/kit/lamp-form.ts'

const ACCURACY = { percentOfReading: 1, digits: 3 }
const byResistance: LampForm = {
  ...FIRST_FORM,
  method: 'resistance',
  typed: { volts: '230.0', amperes: '0.261', watts: '', coldOhms: '61.5' },
}

describe('what a display shows', () => {
  test.each([
    ['12.30', 12.3, 0.01],
    ['230', 230, 1],
    ['0,261', 0.261, 0.001],
    [' 61.5 ', 61.5, 0.1],
  ])('%s is %d in steps of %d', (text, value, resolution) => {
    const reading = readDisplay(text, ACCURACY)
    expect(reading?.value).toBe(value)
    expect(reading?.resolution).toBeCloseTo(resolution, 9)
  })
  test.each(['', ' ', 'OL', '1.2.3', 'Infinity'])('“%s” is no reading', (text) => {
    expect(readDisplay(text, ACCURACY)).toBeNull()
  })
})

describe('the form of a lamp', () => {
  test('needs nothing typed for a lamp at its rated value', () => {
    const input = lampInputOf(FIRST_FORM)
    expect('method' in input && lampTemperature(input)).toMatchObject({
      ok: true,
      // Common practice: a general-service filament lamp at rated volts.
      colourTemperatureK: 2700,
      standardUncertaintyK: 40,
    })
  })

  test('says what is missing, in the order of the fields', () => {
    expect(lampInputOf({ ...FIRST_FORM, method: 'volts' })).toEqual({
      missing: ['ratedVolts', 'volts'],
    })
    expect(lampInputOf({ ...FIRST_FORM, method: 'watts' })).toEqual({
      missing: ['ratedWatts', 'watts'],
    })
    expect(lampInputOf({ ...FIRST_FORM, method: 'resistance' })).toEqual({
      missing: ['coldOhms', 'volts', 'amperes'],
    })
    expect(lampInputOf({ ...byResistance, second: 'watts' })).toEqual({ missing: ['watts'] })
  })

  // 230 V / 0.261 A = 881.2 ohm; over 61.5 ohm at 293 K (0.968 of that at 300 K) the ratio to 300 K
  // is 13.87: between 13.08 at 2500 K and 14.34 at 2700 K (CRC Handbook, from memory), so 2625 K.
  test('takes the true temperature of the filament from hot over cold resistance', () => {
    const input = lampInputOf(byResistance)
    const found = 'method' in input ? lampTemperature(input) : undefined
    expect(found?.ok && found.trueTemperatureK).toBeGreaterThan(2600)
    expect(found?.ok && found.trueTemperatureK).toBeLessThan(2650)
    expect(found?.ok && found.colourTemperatureK - found.trueTemperatureK).toBeGreaterThan(30)
  })

  test('hands the dimmer on where it touches the volts, and not for watts', () => {
    const cut = { kind: 'cut', meter: 'average-responding', supplyVolts: 230 } as const
    const lamp = { ...FIRST_FORM.lamp, supply: cut, ratedVolts: 230, ratedWatts: 60 }
    const typed = { ...FIRST_FORM.typed, volts: '120.0', watts: '25.0' }
    const volts = lampInputOf({ ...FIRST_FORM, lamp, typed, method: 'volts' })
    const watts = lampInputOf({ ...FIRST_FORM, lamp, typed, method: 'watts' })
    expect(volts).toMatchObject({
      phaseCut: { meter: 'average-responding', supplyVolts: 230 },
    })
    expect(watts).not.toHaveProperty('phaseCut')
  })

  test('keeps what belongs to the lamp, and comes back with the meters cleared', () => {
    const kept = lampToKeep(byResistance)
    const again = formOfLamp('Bench lamp', kept)
    expect(again.method).toBe('resistance')
    expect(again.typed).toEqual({ volts: '', amperes: '', watts: '', coldOhms: '61.5' })
    expect(lampToKeep(again)).toEqual(kept)
  })

  test('begins anew with the best method that the lamp has numbers for', () => {
    const methodOf = (part: Partial<LampForm['lamp']>) =>
      formOfLamp('Lamp', { ...FIRST_FORM.lamp, cold: null, ...part }).method
    expect(methodOf({})).toBe('rated')
    expect(methodOf({ ratedWatts: 60 })).toBe('watts')
    expect(methodOf({ ratedWatts: 60, ratedVolts: 230 })).toBe('volts')
    expect(methodOf({ ratedVolts: 230, cold: lampToKeep(byResistance).cold })).toBe('resistance')
    expect(formOfLamp('Lamp', FIRST_FORM.lamp).typed.coldOhms).toBe('')
    // Nothing was measured cold where nothing, or no resistance, was typed.
    expect(lampToKeep(FIRST_FORM).cold).toBeNull()
    const none = { ...byResistance, typed: { ...byResistance.typed, coldOhms: '0' } }
    expect(lampToKeep(none).cold).toBeNull()
  })

  test('knows the current by its watts as well', () => {
    const typed = { ...byResistance.typed, amperes: '', watts: '60.0' }
    const byWatts = lampInputOf({ ...byResistance, second: 'watts', typed })
    expect(byWatts).toMatchObject({ method: 'resistance', with: { watts: { value: 60 } } })
    const found = 'method' in byWatts ? lampTemperature(byWatts) : undefined
    const both = lampInputOf(byResistance)
    const amperes = 'method' in both ? lampTemperature(both) : undefined
    // 230 V and 0.261 A are 60.03 W.
    if (!found?.ok || !amperes?.ok) throw new Error('no temperature')
    expect(Math.abs(found.trueTemperatureK - amperes.trueTemperatureK)).toBeLessThan(5)
  })

  test('of a rated lamp is that of its kind, of a stated one what was stated', () => {
    const before = { colourTemperatureK: 2850, standardUncertaintyK: 20 }
    expect(ratingOf('stated', before)).toBe(before)
    // Halogen lamps burn hotter than general-service ones (common practice, 2900 to 3200 K against 2700).
    const kelvin = (kind: 'halogen' | 'general-service') =>
      ratingOf(kind, before).colourTemperatureK
    expect(kelvin('halogen')).toBeGreaterThan(kelvin('general-service'))
    expect(kelvin('general-service')).toBe(2700)
  })
})
