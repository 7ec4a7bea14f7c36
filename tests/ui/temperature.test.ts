import { expect, test } from 'vitest'
import {
  roundInterval,
  roundTemperature,
  showDifference,
  showFigure,
  showTemperature,
} from '../../src/ui/temperature.ts'

const kelvin = (celsius: number) => celsius + 273.15

// Two digits of the uncertainty, rounded up: GUM (JCGM 100:2008) 7.2.6.
test('a figure keeps the place that two digits of its uncertainty reach', () => {
  expect(roundTemperature(kelvin(907.4), 433.2, 'C')).toEqual({
    value: '910',
    plusMinus: '440',
    unit: '°C',
  })
  expect(roundTemperature(kelvin(892.3), 54.1, 'C')).toMatchObject({
    value: '892',
    plusMinus: '55',
  })
})

test('the ends of an interval are rounded outward to that same place', () => {
  expect(roundInterval([kelvin(487.2), kelvin(1353.4)], 'C')).toEqual(['480 °C', '1360 °C'])
  expect(roundInterval([kelvin(837.4), kelvin(946.2)], 'C')).toEqual(['837 °C', '947 °C'])
  expect(roundInterval([kelvin(500), kelvin(1000)], 'F')).toEqual(['930 °F', '1840 °F'])
})

test('what is no number is shown as a dash, everywhere', () => {
  for (const none of [Number.NaN, Number.POSITIVE_INFINITY]) {
    expect(showFigure(none, none)).toBe('– ± – °C')
    expect(showFigure(1273.15, Number.NaN)).toBe('1000 ± – °C')
    expect(showTemperature(none)).toBe('– °C')
    expect(showDifference(none)).toBe('– °C')
  }
})
