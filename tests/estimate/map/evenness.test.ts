import { expect, test } from 'vitest'
import { evenness } from '../../../src/estimate/map/evenness.ts'
import type { HeatScale } from '../../../src/estimate/map/heat-scale.ts'
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
  expect(linear.leastSpot!.prevents).toBeNull()
  expect(open.leastSpot).toMatchObject({ riseK: null, prevents: 'tone curve' })
  expect(evennessSentences(open, map.side, null).at(-1)).toMatch(/^No spot .* tone curve.* raw/)
})

test('a scale, noise or coarse coding that lets no spot be told is not laid on a tone curve', () => {
  const { map } = madeMap()
  const last = (scale: HeatScale, ownK: number, codingK: number) => {
    const own = map.ownK.map(() => ownK)
    const measured = {
      raw: map.temperatureK,
      noise: own,
      coding: own.map(() => codingK),
      blockPixels: codingK > 0 ? 8 : 0,
    }
    const said = evenness({ ...map, ownK: own, scale }, measured, true)
    return [said.leastSpot!.prevents, evennessSentences(said, map.side, null).at(-1)]
  }
  const { scale } = map
  // Three standard uncertainties of 0.4 a kelvin are more than any rise.
  const steep = { ...scale, byRatio: { ...scale.byRatio, leaningK: [-12, 0, 12] } }
  expect(last(steep, 1, 0)).toEqual(['scale', expect.stringContaining('known heat')])
  // 3 sqrt 2 times 80 K, and 2.41 steps of 130 K, are above 300 K.
  expect(last(scale, 80, 0)).toEqual(['noise', expect.stringContaining('Expose longer')])
  expect(last(scale, 1, 130)).toEqual(['noise', expect.stringContaining('JPEG')])
  expect(last(scale, 1, 0)[0]).toBeNull()
})
