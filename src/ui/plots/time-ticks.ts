import type { Range, Tick } from './plot-types.ts'

const SECOND_MS = 1000
const MINUTE_MS = 60 * SECOND_MS
const HOUR_MS = 60 * MINUTE_MS
const DAY_MS = 24 * HOUR_MS
const MONTH_MS = 30.44 * DAY_MS

type Unit = 'second' | 'day' | 'month'
type Step = readonly [unit: Unit, count: number]

const SIZES: Record<Unit, number> = { second: SECOND_MS, day: DAY_MS, month: MONTH_MS }
const STEPS: readonly Step[] = [
  ...[1, 2, 5, 10, 15, 30].map((count): Step => ['second', count]),
  ...[1, 2, 5, 10, 15, 30].map((count): Step => ['second', 60 * count]),
  ...[1, 2, 3, 6, 12].map((count): Step => ['second', 3600 * count]),
  ...[1, 2, 4, 7, 14].map((count): Step => ['day', count]),
  ...[1, 2, 3, 6, 12, 24, 60, 120].map((count): Step => ['month', count]),
]

/**
 * Ticks of a time axis (ms since 1970) where this device's clock and calendar are round: full
 * minutes, midnights, firsts of a month.
 *
 * @param wanted about how many there is room for
 */
export function timeTicks([min, max]: Range, wanted: number): Tick[] {
  const least = (max - min) / wanted
  const step = STEPS.find(([unit, count]) => count * SIZES[unit] >= least) ?? STEPS.at(-1)!
  const ticks: Tick[] = []
  for (const value of roundTimes(step, min)) {
    if (value > max) return ticks
    if (value >= min) ticks.push({ value, text: textOf(step, value) })
  }
  return ticks
}

/** Round times from a little before a time on. */
function* roundTimes([unit, count]: Step, from: number): Generator<number> {
  const date = new Date(from)
  const [year, month, day] = [date.getFullYear(), date.getMonth(), date.getDate()]
  // A clock change may have put the day's start an hour off.
  const sinceMidnight = from - new Date(year, month, day).getTime() - HOUR_MS
  const first = unit === 'second' ? Math.max(0, Math.floor(sinceMidnight / (count * SECOND_MS))) : 0
  for (let k = first; ; k++) {
    if (unit === 'second') yield new Date(year, month, day, 0, 0, k * count).getTime()
    else if (unit === 'day') {
      // Counted from a fixed day, so that every second day stays the same days when moved.
      const start = day - (dayNumber(date) % count)
      yield new Date(year, month, start + k * count).getTime()
    } else yield new Date(year, month - ((12 * year + month) % count) + k * count, 1).getTime()
  }
}

const dayNumber = (date: Date) =>
  Math.floor(Date.UTC(date.getFullYear(), date.getMonth(), date.getDate()) / DAY_MS)

const two = (n: number) => String(n).padStart(2, '0')
const dayText = (date: Date) => `${two(date.getMonth() + 1)}-${two(date.getDate())}`
const clockText = (date: Date) => `${two(date.getHours())}:${two(date.getMinutes())}`

function textOf([unit, count]: Step, value: number): string {
  const date = new Date(value)
  if (unit === 'month') {
    const year = String(date.getFullYear())
    return count % 12 === 0 ? year : `${year}-${two(date.getMonth() + 1)}`
  }
  const midnight = date.getHours() + date.getMinutes() + date.getSeconds() === 0
  if (unit === 'day' || midnight) return dayText(date)
  return count % 60 === 0 ? clockText(date) : `${clockText(date)}:${two(date.getSeconds())}`
}

/** A time in full, for readouts: 2026-03-14 15:09. */
export function timeText(ms: number): string {
  const date = new Date(ms)
  return `${date.getFullYear()}-${dayText(date)} ${clockText(date)}`
}
