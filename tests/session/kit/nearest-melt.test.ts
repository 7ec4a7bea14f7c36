import { expect, test } from 'vitest'
import { kelvinFromCelsius } from '../../../src/physics/units.ts'
import { nearestMelt } from '../../../src/session/kit/nearest-melt.ts'

/** ITS-90 for silver, gold and copper; salt 800.7 °C (CRC Handbook of Chemistry and Physics, 97th ed.). */
test.each([
  ['silver', 961.78],
  ['gold', 1064.18],
  ['copper', 1084.62],
  ['sodium-chloride', 800.7],
] as const)('near the melting point of %s that is offered', (id, celsius) => {
  expect(nearestMelt(kelvinFromCelsius(celsius) - 2)).toBe(id)
})

test('where no heat is better than another salt comes first', () => {
  expect(nearestMelt(null)).toBe('sodium-chloride')
})
