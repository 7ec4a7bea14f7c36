import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { timeText, timeTicks } from '../../../src/ui/plots/time-ticks.ts'

const at = (...local: [number, number, number, number?, number?, number?]) =>
  new Date(...local).getTime()

describe('ticks of a time axis', () => {
  test('of a morning are full hours', () => {
    const ticks = timeTicks([at(2026, 2, 14, 8, 20), at(2026, 2, 14, 12, 10)], 5)
    expect(ticks.map(({ text }) => text)).toEqual(['09:00', '10:00', '11:00', '12:00'])
  })

  test('of a week are midnights, of years are the first of January', () => {
    const week = timeTicks([at(2026, 2, 14, 8), at(2026, 2, 21, 8)], 8)
    expect(week.map(({ text }) => text)).toEqual([
      '03-15',
      '03-16',
      '03-17',
      '03-18',
      '03-19',
      '03-20',
      '03-21',
    ])
    const years = timeTicks([at(2019, 5, 1), at(2024, 5, 1)], 6)
    expect(years.map(({ text }) => text)).toEqual(['2020', '2021', '2022', '2023', '2024'])
  })

  test('of a firing every few seconds name the second', () => {
    const ticks = timeTicks([at(2026, 2, 14, 8, 20, 3), at(2026, 2, 14, 8, 20, 31)], 3)
    expect(ticks.map(({ text }) => text)).toEqual(['08:20:10', '08:20:20', '08:20:30'])
  })

  test('lie in the range, rise, and are never many more than wanted', () => {
    const start = fc.integer({ min: at(1990, 0, 1), max: at(2060, 0, 1) })
    const span = fc.double({ min: 3, max: 11, noNaN: true }).map((power) => 10 ** power)
    fc.assert(
      fc.property(start, span, fc.integer({ min: 2, max: 12 }), (from, length, wanted) => {
        const ticks = timeTicks([from, from + length], wanted)
        const values = ticks.map(({ value }) => value)
        expect(values.every((value) => value >= from && value <= from + length)).toBe(true)
        expect(values.every((value, i) => i === 0 || value > values[i - 1]!)).toBe(true)
        // A clock change can bring one more, a short month another.
        expect(ticks.length).toBeLessThanOrEqual(wanted + 3)
      }),
    )
  })

  test('in full show day and clock', () => {
    expect(timeText(at(2026, 2, 4, 5, 6))).toBe('2026-03-04 05:06')
  })
})
