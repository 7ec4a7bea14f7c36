import { describe, expect, it } from 'vitest'
import { consensus } from '../../../src/estimate/consensus.ts'
import type { BudgetEntry, Method, Reading } from '../../../src/log/schema/types.ts'
import { representatives } from '../../../src/session/check/representatives.ts'

/** Made up: a reading some minutes after noon. */
const reading = (
  id: string,
  minute: number,
  celsius: number,
  budget: readonly BudgetEntry[],
  more: { method?: Method; series?: string } = {},
) =>
  ({
    id,
    method: more.method ?? 'live',
    series: more.series ?? null,
    takenAt: { iso: new Date(Date.UTC(2026, 2, 14, 12, minute)).toISOString(), zone: 'UTC' },
    recomputations: [],
    result: {
      kind: 'temperature',
      temperatureK: celsius + 273.15,
      standardUncertaintyK: Math.hypot(...budget.map(({ contributionK }) => contributionK)),
      budget,
    },
  }) as unknown as Reading

const byCamera = (camera: string, cameraK: number, ownK: number): BudgetEntry[] => [
  { term: 'camera', contributionK: cameraK, sharedBy: `camera ${camera}` },
  { term: 'pixel noise', contributionK: ownK, sharedBy: null },
]
const LIVE_C = [940, 948, 951, 955, 962, 966, 970]

describe('representatives', () => {
  it('of seven live readings by one camera are one, and its figure stands as it is', () => {
    const seven = LIVE_C.map((celsius, i) => reading(`live ${i}`, i, celsius, byCamera('a', 65, 2)))
    const [one, ...others] = representatives(seven)
    expect(others).toEqual([])
    expect(one!.ids).toHaveLength(7)
    expect(one!.reading.id).toBe('live 3')
    expect(one!.rangeK).toBeCloseTo(30, 9)
    // 30 K are within its 65 K: it counts, with the movement in its uncertainty.
    expect(one!.changing).toBe(false)
    expect(one!.standardUncertaintyK).toBeCloseTo(Math.hypot(65, 2, 30 / Math.sqrt(12)), 9)
    const found = consensus([one!.estimate])
    expect(found.ok && found.verdict).toBe('single')
    expect(found.ok && found.value?.temperatureK).toBeCloseTo(955 + 273.15, 9)
  })

  it('of a heat that moved beyond what it can be wrong by are marked as changing', () => {
    const cooling = LIVE_C.map((celsius, i) =>
      reading(`live ${i}`, i, celsius, byCamera('a', 7, 2)),
    )
    expect(representatives(cooling)[0]!.changing).toBe(true)
    const steady = LIVE_C.map((_, i) => reading(`live ${i}`, i, 950 + (i % 2), byCamera('a', 7, 2)))
    expect(representatives(steady)[0]!.changing).toBe(false)
  })

  it('stay apart by kind, by camera and by moment; a series is one, however long', () => {
    const apart = [
      reading('a', 0, 950, byCamera('a', 65, 2)),
      reading('b', 1, 950, byCamera('b', 65, 2)),
      reading('eye', 2, 950, [{ term: 'eye', contributionK: 40, sharedBy: null }], {
        method: 'by eye',
      }),
      reading('later', 90, 950, byCamera('a', 65, 2)),
    ]
    expect(representatives(apart).map((one) => one.reading.id)).toEqual(['later', 'eye', 'b', 'a'])
    const series = [0, 50, 100, 150].map((minute) =>
      reading(`s ${minute}`, minute, 950, byCamera('a', 65, 2), { series: 'firing' }),
    )
    expect(representatives(series)).toHaveLength(1)
    const two = series.map((one, i) => ({ ...one, series: i < 2 ? 'firing' : 'second firing' }))
    expect(representatives(two)).toHaveLength(2)
  })
})

describe('limits of one heat', () => {
  /** Two readings with 2 K of their own, so many kelvin and minutes apart. */
  const pair = (kelvin: number, minutes: number) =>
    representatives([
      reading('a', 0, 950, byCamera('a', 1, 2)),
      reading('b', minutes, 950 + kelvin, byCamera('a', 1, 2)),
    ])

  it('it moved where two readings are more than four of their own uncertainties apart', () => {
    expect(pair(7.9, 1)[0]!.changing).toBe(false)
    expect(pair(8.1, 1)[0]!.changing).toBe(true)
    expect(pair(8.1, 1)[0]!.standardUncertaintyK).toBeCloseTo(
      Math.hypot(1, 2, 8.1 / Math.sqrt(12)),
      9,
    )
  })

  it('it is one for an hour', () => {
    expect(pair(0, 59)).toHaveLength(1)
    expect(pair(0, 61)).toHaveLength(2)
  })
})
