import { expect, test } from 'vitest'
import { estimateGlow } from '../../../src/estimate/estimate-glow.ts'
import type { Unevenness } from '../../../src/light/unevenness.ts'
import { extremesOf } from '../../../src/session/reading/extremes.ts'
import { colour, reading } from '../../estimate/inputs.ts'

const whole = reading(colour(0.09, 0.006))
const part = (greenOverRed: number) =>
  ({ colour: colour(greenOverRed, 0.006) }) as unknown as Unevenness['hottest']
const parts = (hottest: Unevenness['hottest'], coolest: Unevenness['coolest']): Unevenness => ({
  lnGreenOverRedSd: 0.1,
  lnRedSd: 0.1,
  hottest,
  coolest,
  parts: 8,
})
const kelvin = (greenOverRed: number) => {
  const found = estimateGlow({ ...whole, glow: colour(greenOverRed, 0.006) })
  return found.kind === 'temperature' ? found.temperatureK : Number.NaN
}

test('the hottest and the coolest part are read like the glow, and named by their temperatures', () => {
  const found = extremesOf(whole, parts(part(0.12), part(0.07)))!
  expect(found).toEqual({ hottest: kelvin(0.12), coolest: kelvin(0.07) })
  expect(found.hottest).toBeGreaterThan(found.coolest + 50)
  // Chosen by green over red alone, two that are nearly alike can come the other way round.
  expect(extremesOf(whole, parts(part(0.07), part(0.12)))).toEqual(found)
})

test('nothing is said where a part is missing or has no temperature', () => {
  expect(extremesOf(whole, parts(null, part(0.07)))).toBeNull()
  expect(extremesOf(whole, parts(part(0.12), null))).toBeNull()
  // Greener than any hot body.
  expect(extremesOf(whole, parts(part(4), part(0.07)))).toBeNull()
  expect(extremesOf(whole, parts(part(0.12), part(4)))).toBeNull()
})
