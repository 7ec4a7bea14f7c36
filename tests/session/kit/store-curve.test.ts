import { signal } from '@preact/signals'
import { afterEach, describe, expect, test } from 'vitest'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { curveOriginOf, storeFoundCurve } from '../../../src/session/kit/store-curve.ts'
import { NO_FACTS } from '../../../src/sources/files/photo-facts.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { toneCurve } from './items.ts'

afterEach(closeTestLogs)

const NOW = new Date('2026-05-04T10:00:00Z')
const FACTS = {
  ...NO_FACTS,
  make: 'Made-up',
  model: 'phone',
  lens: 'wide',
  takenAt: '2026-03-01T10:00:00+01:00',
}
const SERIES = '0b6f6c1e-7f0a-4c5e-9d55-2f1f3a0c9a11'
const SWEPT = { kind: 'measured', curve: toneCurve('srgb'), channelOdds: 12, findings: [] }

/** Neither kind is likelier: what is found is their average. */
const BOTH_KINDS = { code: 'both kinds averaged', weight: 'warning' }

/** A reading whose photos gave a curve, by a sweep or by a raw picture. */
const reading = (
  series: { sweep?: unknown; pair?: unknown },
  facts: object | null = FACTS,
  truthK: number | null = null,
) => {
  const of = (result: unknown) =>
    result === undefined ? null : { id: SERIES, result: signal(result) }
  return {
    glow: { photo: signal(facts && { facts }) },
    simulatedTruthK: signal(truthK),
    sweep: signal(of(series.sweep)),
    pair: signal(of(series.pair)),
  } as unknown as Parameters<typeof storeFoundCurve>[1]
}

async function stored(of: ReturnType<typeof reading>, log = openTestLog()) {
  const opened = await log
  const kept = await storeFoundCurve(opened, of, NOW)
  const { items } = await opened.kit.list()
  return { kept, items, log: opened, ...sortKit(items) }
}

describe('a curve that was found', () => {
  test('is kept under the id of its sweep, by the day and the camera of its photos', async () => {
    const of = reading({ sweep: SWEPT })
    const { kept, curves, items, log } = await stored(of)
    expect(kept).toBe(true)
    expect(curves).toMatchObject([
      {
        id: SERIES,
        name: 'Tone curve, phone',
        cameraId: 'Made-up · phone · wide',
        channelOdds: 12,
        curve: SWEPT.curve,
      },
    ])
    expect(Date.parse(curves[0]!.foundAt)).toBe(Date.parse(FACTS.takenAt))
    expect(curves[0]!.curveId).toBe(curveOriginOf(of, NOW)!.curveId)
    expect(items[0]!.simulated).toBe(false)
    // The same sweep once more is there already.
    expect((await stored(of, Promise.resolve(log))).kept).toBe(false)
  })

  test('by a raw picture says nothing of its kind', async () => {
    const { curves } = await stored(reading({ pair: { kind: 'measured', curve: SWEPT.curve } }))
    expect(curves[0]?.channelOdds).toBe(1)
  })

  test('of simulated photos is marked so, of a file without a name it is that of this camera', async () => {
    const { items, curves } = await stored(reading({ sweep: SWEPT }, NO_FACTS, 1200))
    expect([items[0]!.simulated, curves[0]!.name]).toEqual([true, 'Tone curve, this camera'])
    expect(Date.parse(curves[0]!.foundAt)).toBe(NOW.getTime())
  })

  test.each([
    ['there was no series', reading({})],
    ['it is still being found', reading({ sweep: null })],
    ['it was refused', reading({ sweep: { kind: 'refused' } })],
    ['its kind stayed open', reading({ sweep: { ...SWEPT, findings: [BOTH_KINDS] } })],
    ['its photo is gone', reading({ sweep: SWEPT }, null)],
  ])('is not kept where %s', async (_, of) => {
    const { kept, items } = await stored(of)
    expect([kept, items]).toEqual([false, []])
  })
})
