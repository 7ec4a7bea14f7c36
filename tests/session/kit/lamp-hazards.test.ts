import { expect, test } from 'vitest'
import { FIRST_FORM, NOTHING_TYPED } from '../../../src/session/kit/lamp-form.ts'
import { lampHazards } from '../../../src/session/kit/lamp-hazards.ts'

const lamp = { ...FIRST_FORM.lamp, ratedVolts: 230, ratedWatts: 60 }
const hazards = (typed: Partial<typeof NOTHING_TYPED>, dimmerWatts: number | null = null) =>
  lampHazards({ ...FIRST_FORM, lamp, dimmerWatts, typed: { ...NOTHING_TYPED, ...typed } })

test('more volts or watts than the rating are told, by whichever meter', () => {
  expect(hazards({ volts: '230' })).toEqual([])
  expect(hazards({ volts: '231' })).toEqual(['lamp over'])
  expect(hazards({ watts: '60' })).toEqual([])
  expect(hazards({ watts: '61,5' })).toEqual(['lamp over'])
  expect(hazards({ volts: '220', amperes: '0.3' })).toEqual(['lamp over'])
})

test('a dimmer below the lamp is told, by the rating or by what is drawn', () => {
  expect(hazards({}, 60)).toEqual([])
  expect(hazards({}, 40)).toEqual(['dimmer small'])
  expect(hazards({ watts: '80' }, 70)).toEqual(['lamp over', 'dimmer small'])
})

test('what is not typed says nothing', () => {
  expect(lampHazards(FIRST_FORM)).toEqual([])
  expect(lampHazards({ ...FIRST_FORM, dimmerWatts: 10 })).toEqual([])
})
