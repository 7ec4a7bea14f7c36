import { expect, test } from 'vitest'
import { evenness } from '../../../src/estimate/map/evenness.ts'
import { evennessSentences } from '../../../src/ui/words/heat-map.ts'
import { madeMap } from '../../session/map/made-map.ts'

const COLUMNS = 40

test('a single hot cell is not the hottest place', () => {
  const hot = (at: number) => (at === 10 * COLUMNS + 20 ? 60 : 0)
  const { evenness: said } = madeMap((at) => 1100 + (at % COLUMNS) + hot(at))
  expect(said.hottest % COLUMNS).toBeGreaterThan(36)
  expect(said.coolest % COLUMNS).toBeLessThan(3)
})

test('where a tone curve leaves more open than a spot rises, it is said that none can be told', () => {
  const { map, evenness: linear } = madeMap()
  // 22694 K / 1120^2 of ln(red) a kelvin: 60 K of leaning over 1 of ln(red) are 1.09 K a kelvin.
  const byLevel = { x: [-2, -1, 0], overK: [0, 0, 0], leaningK: [-60, 0, 60] }
  const measured = {
    raw: map.temperatureK,
    noise: map.ownK,
    coding: map.ownK.map(() => 0),
    blockPixels: 0,
  }
  const open = evenness({ ...map, scale: { ...map.scale, byLevel } }, measured, false)
  // Three standard uncertainties: sqrt 2 of 1.25 K, and 0.05 of the rise.
  const least = (3 * Math.SQRT2 * 1.25) / Math.sqrt(1 - (3 * 0.05) ** 2)
  expect(Math.abs(linear.leastSpot!.riseK! / least - 1)).toBeLessThan(0.02)
  expect(open.leastSpot!.riseK).toBeNull()
  expect(evennessSentences(open, map.side, null).at(-1)).toMatch(/^No spot can be told/)
})
