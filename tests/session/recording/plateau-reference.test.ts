import { expect, test } from 'vitest'
import type { EstimateSample } from '../../../src/estimate/recording/estimate-sampler.ts'
import type { PlateauMeaning } from '../../../src/estimate/recording/plateau-meaning.ts'
import type { Plateau } from '../../../src/estimate/recording/plateaus.ts'
import {
  plateauKitItem,
  plateauReference,
} from '../../../src/session/recording/plateau-reference.ts'
import { CARD, DAYLIGHT, reading, seen } from '../../estimate/inputs.ts'

const plateau = {
  kind: 'plateau',
  during: 'cooling',
  fromSeconds: 10,
  toSeconds: 20,
  levelK: 1070,
  levelUncertaintyK: 2,
} as Plateau
/** Freezing point of sodium chloride, 1073.9 K (handbook tables, from memory). */
const meaning: PlateauMeaning = {
  id: 'sodium-chloride',
  name: 'Salt',
  condition: null,
  temperatureK: 1073.9,
  pointUncertaintyK: 1,
  source: 'handbook tables, from memory',
  inSteel: false,
  away: 0.5,
}
const look = (
  temperatureK: number,
  changes: Parameters<typeof reading>[1] = {},
): EstimateSample => ({
  seconds: 15,
  lnRatio: -1.5,
  temperatureK,
  input: reading(seen(temperatureK), changes),
})
const ms = [0, 5, 10, 12, 15, 18, 20, 25].map((seconds) => 1000 * seconds)
const columns = {
  ms: Float64Array.from(ms),
  lnRatio: Float32Array.from([-1, -1.2, -1.51, Number.NaN, -1.5, -1.49, -1.9, -1.8]),
} as unknown as Parameters<typeof plateauReference>[2]
const found = (
  looks: readonly EstimateSample[],
  of: Partial<Plateau> = {},
  what: Partial<PlateauMeaning> = {},
) => plateauReference({ ...plateau, ...of }, { ...meaning, ...what }, columns, looks)

test('a plateau is the published point, unsure by the point, the surface and the level', () => {
  const reference = found([look(1072)])
  if (typeof reference === 'string') throw new Error(reference)
  expect(reference.temperatureK).toBe(1073.9)
  // The surface counts 2.5 K: 1, 2.5 and 2 K in squares.
  expect(reference.standardUncertaintyK).toBeCloseTo(Math.sqrt(1 + 6.25 + 4), 9)
  // The middle of what was read from the first to the last second of it, both counted.
  expect(reference.lnRatio).toBeCloseTo((-1.51 - 1.5) / 2, 6)
})

test('the look nearest to the level tells the camera’s state, one 40 K away does not', () => {
  const nearest = found([look(1090), look(1065), look(1050)])
  expect(nearest).toMatchObject({ look: { temperatureK: 1065 } })
  expect(found([look(1109)])).toMatchObject({ look: { temperatureK: 1109 } })
  for (const away of [1111, 1029]) expect(found([look(away)])).toBe('no look')
  expect(found([])).toBe('no look')
  expect(found([look(1070)], { fromSeconds: 30, toSeconds: 40 })).toBe('no look')
})

test('what is no melt is no known heat: a slowing, a change within steel', () => {
  expect(found([look(1070)], { kind: 'slowing' })).toBe('no melt')
  expect(found([look(1070)], { kind: 'reversal' })).toBe('no melt')
  expect(found([look(1070)], {}, { inSteel: true })).toBe('no melt')
})

test('a white balance that moves needs a card', () => {
  for (const kind of ['automatic', 'unknown'] as const) {
    const balanceState = { ...DAYLIGHT, kind }
    expect(found([look(1070, { balance: null, balanceState })])).toBe('white balance not fixed')
    expect(found([look(1070, { balance: CARD, balanceState })])).not.toBeTypeOf('string')
  }
  expect(found([look(1070, { balance: null, balanceState: DAYLIGHT })])).not.toBeTypeOf('string')
})

test('it is kept with the colour of the whole plateau, not that of one look', () => {
  const reference = found([look(1072)])
  if (typeof reference === 'string') throw new Error(reference)
  const startedAt = { iso: '2026-05-04T10:00:00.000Z' }
  const head = { startedAt, simulated: false } as unknown as Parameters<typeof plateauKitItem>[2]
  const { data, ...item } = plateauKitItem(reference, { ...meaning, condition: 'covered' }, head)
  expect(item).toMatchObject({
    kind: 'known heat',
    name: 'Salt, plateau',
    temperatureK: 1073.9,
    balanceState: 'daylight',
    simulated: false,
  })
  const stored = data as unknown as {
    reference: { glow: { mean: number[] }; takenAt: string }
    origin: { atmosphere: string | null; kind: string }
    off: boolean
  }
  const [red, green] = stored.reference.glow.mean as [number, number]
  expect(Math.log(green / red)).toBeCloseTo(reference.lnRatio, 9)
  expect(stored.reference.takenAt).toBe(startedAt.iso)
  expect(stored).toMatchObject({
    off: false,
    origin: { kind: 'known heat', atmosphere: 'covered' },
  })
  const other = plateauKitItem(reference, { ...meaning, condition: 'eutectic' }, head)
  expect(other.data).toMatchObject({ origin: { atmosphere: null } })
})
