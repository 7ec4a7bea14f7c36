import { describe, expect, test } from 'vitest'
import { LIVE_READ, type LiveCells } from '../../../src/light/live/live-cells.ts'
import { coarseMeans } from '../../../src/session/live/coarse-means.ts'
import { streamExposure } from '../../../src/session/live/look-settings.ts'

describe('the exposure of a stream', () => {
  const of = (settings: Record<string, unknown>, exposure: 'locked' | 'free' = 'locked') =>
    streamExposure({ exposure } as never, { settings: () => settings } as never)

  test('is that of its settings, times in 100 µs (W3C Image Capture)', () => {
    const found = of({ exposureTime: 100, iso: 200 })
    expect(found).toMatchObject({ exposureSeconds: 0.01, iso: 200 })
    expect(found?.fNumber).toBeGreaterThan(0)
  })

  test('is not known while it may change, or where the camera does not say it', () => {
    expect(of({ exposureTime: 100, iso: 200 }, 'free')).toBeNull()
    expect(
      streamExposure(null, { settings: () => ({ exposureTime: 1, iso: 1 }) } as never),
    ).toBeNull()
    for (const settings of [
      { iso: 200 },
      { exposureTime: 100 },
      { exposureTime: 0, iso: 200 },
      { exposureTime: 100, iso: 0 },
      { exposureTime: '100', iso: 200 },
      { exposureTime: Number.NaN, iso: 200 },
    ])
      expect(of(settings)).toBeNull()
  })
})

describe('larger cells of a live map', () => {
  const [columns, rows] = [10, 9]
  const cells = (isRead: (x: number, y: number) => boolean): LiveCells =>
    ({
      columns,
      rows,
      side: 8,
      state: Uint8Array.from({ length: columns * rows }, (_, at) =>
        isRead(at % columns, Math.floor(at / columns)) ? LIVE_READ : 99,
      ),
    }) as unknown as LiveCells
  const kelvin = (at: number) => 1000 + (at % columns) + 10 * Math.floor(at / columns)

  test('are means of those read, of four by four', () => {
    const found = coarseMeans(
      cells(() => true),
      kelvin,
    )
    // What is left over at the right and below makes no cell.
    expect(found).toMatchObject({ columns: 2, rows: 2, side: 32 })
    expect([...found.temperatureK]).toEqual([1016.5, 1020.5, 1056.5, 1060.5])
  })

  test('need half of theirs', () => {
    const half = coarseMeans(
      cells((x, y) => y % 4 < 2 && x < 4),
      kelvin,
    )
    expect(half.temperatureK[0]).toBe(1006.5)
    expect(half.temperatureK[1]).toBeNaN()
    const less = coarseMeans(
      cells((x, y) => y % 4 < 2 && (x > 0 || y > 0)),
      kelvin,
    )
    expect(less.temperatureK[0]).toBeNaN()
  })
})
