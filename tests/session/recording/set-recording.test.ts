import { expect, test } from 'vitest'
import { emptyColumns, FLAGS } from '../../../src/log/recordings/columns.ts'
import type { RecordingHead } from '../../../src/log/recordings/recording-schema.ts'
import { curveOf } from '../../../src/session/recording/curve-of.ts'
import { detailsOf, storedDetails } from '../../../src/session/recording/recording-details.ts'
import { setByHeat } from '../../../src/session/recording/set-recording.ts'
import { reading, seen } from '../../estimate/inputs.ts'

/** Silver's freezing point, ITS-90: 961.78 °C. */
const SILVER_K = 1234.93
/** Stands at 10 to 20 s where it read 80 K too much; by 12 K where exposure changed at 25 s. */
const READ_K = SILVER_K + 80

function recorded(jumpAt = 25) {
  const columns = emptyColumns(300)
  for (let i = 0; i < 300; i++) {
    const t = i / 10
    columns.ms[i] = 1000 * t
    columns.temperatureK[i] =
      READ_K - 3 * (t < 10 ? t - 10 : Math.max(t - 20, 0)) + (t < jumpAt ? 0 : 12)
    columns.noiseK[i] = 1
    columns.commonK[i] = t < jumpAt ? 90 : Math.hypot(90, 12)
    columns.lnRatio[i] = -2
    if (t === jumpAt) columns.flags[i]! |= FLAGS['exposure changed']
    if (i === 299) columns.temperatureK[i] = Number.NaN
  }
  return columns
}
const head = {
  source: 'live',
  simulated: true,
  object: 'pot',
  notes: 'as it was',
  marks: [],
} as unknown as RecordingHead
const look = { seconds: 15, lnRatio: -2, temperatureK: READ_K, input: reading(seen(READ_K)) }
const heat = {
  seconds: 15,
  readK: READ_K,
  temperatureK: SILVER_K,
  standardUncertaintyK: 2.7,
  name: 'Fine silver melts',
}

test('a recording is put through the melt that stood in it, and keeps all else', () => {
  const columns = recorded()
  const details = storedDetails(detailsOf([look], null, 0.17))
  const set = setByHeat({ head, columns }, details, heat, 'pot, set')
  expect(set.draft).toMatchObject({ object: 'pot, set', simulated: true, notes: 'as it was' })
  expect(set.columns.temperatureK[150]).toBeCloseTo(SILVER_K, 2)
  expect(set.columns.commonK[150]).toBeCloseTo(2.7, 2)
  // What the exposure may have put into the curve stays from there on.
  expect(set.columns.commonK[260]).toBeGreaterThan(12)
  expect(set.columns.temperatureK[299]).toBeNaN()
  expect(columns.temperatureK[150]).toBeCloseTo(READ_K, 2)

  const kept = storedDetails(set.details)
  expect(kept.looks[0]!.temperatureK).toBeCloseTo(SILVER_K, 2)
  expect(kept.heats).toEqual([{ ...heat, readK: expect.closeTo(SILVER_K, 2) }])
})

test('a changed exposure counts in a set recording, on whichever side of the melt, and when set again', () => {
  const unset = storedDetails(detailsOf([], null, 0.17))
  for (const jumpAt of [5, 25]) {
    const columns = recorded(jumpAt)
    const away = jumpAt === 5 ? 20 : 270
    const stepOf = (of: typeof columns) => curveOf(of).jumps![0]!.stepK
    expect(Math.abs(stepOf(columns) - 12)).toBeLessThan(0.5)
    const first = setByHeat({ head, columns }, unset, heat, '')
    expect(first.columns.commonK[away]).toBeGreaterThan(10)
    expect(Math.abs(stepOf(first.columns) - 11)).toBeLessThan(0.7)
    // A melt on the other side of the step is uncertain by it.
    const beyond = { ...heat, seconds: away / 10, readK: SILVER_K + 5 }
    const details = storedDetails(first.details)
    const second = setByHeat({ head, columns: first.columns }, details, beyond, '')
    expect(storedDetails(second.details).heats[1]!.standardUncertaintyK).toBeGreaterThan(10)
    expect(second.columns.commonK[away]).toBeGreaterThan(9)
    expect(Math.abs(stepOf(second.columns) - 11)).toBeLessThan(0.7)
  }
})

test('a second melt keeps the first and tells the rate', () => {
  const columns = recorded()
  const first = setByHeat({ head, columns }, storedDetails(detailsOf([], null, 0.17)), heat, '')
  const details = storedDetails(first.details)
  expect(details.rateShare).toBe(0.17)
  // ITS-90: copper freezes at 1084.62 °C, where this curve reads 15 K less.
  const copper = { ...heat, readK: 1342, temperatureK: 1357.77, name: 'Copper melts' }
  const second = setByHeat({ head, columns: first.columns }, details, copper, '')
  expect(Math.abs(second.columns.temperatureK[150]! - SILVER_K)).toBeLessThan(2.7)
  expect(storedDetails(second.details).rateShare).toBeLessThan(0.08)
  // The curve was 13 % too slow between the melts, and its noise as much too small.
  const times = second.columns.noiseK[150]! / first.columns.noiseK[150]!
  expect(times).toBeGreaterThan(1.05)
  expect(times).toBeLessThan(1.2)
  expect(storedDetails(second.details).heats).toHaveLength(2)
})
