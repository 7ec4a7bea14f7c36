import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import type { Region } from '../../../src/light/image.ts'
import type { StoredCurve } from '../../../src/session/kit/stored-items.ts'
import { FIRST_CHOICES } from '../../../src/session/reading/glow-input.ts'
import {
  cardToFollow,
  createSweepModel,
  type StopsByName,
} from '../../../src/session/reading/sweep-model.ts'
import type { Sweep } from '../../../src/sources/sweep/open-sweep.ts'

const HERE: Region = { shape: 'rectangle', x: 2, y: 2, width: 8, height: 8 }
const THERE: Region = { ...HERE, x: 12 }
const KEPT = {
  curve: { version: 2 },
  channelOdds: 12,
  foundAt: '2026-03-01T10:00:00Z',
} as unknown as StoredCurve
const HOLDS = { kind: 'checked', agrees: true }

/** A sweep of photos that state so much of their exposure; it answers when told to. */
function swept(exposures: readonly (number | null)[], takenAt: string | null = null) {
  const asked: { what: string; given: unknown[]; answer(value: unknown): void }[] = []
  const ask = (what: string, given: unknown[]) =>
    new Promise((resolve) => {
      asked.push({ what, given, answer: resolve })
    })
  let closed = 0
  const sweep = {
    photos: exposures.map((exposure, i) => ({ name: `${i}.jpg`, exposure })),
    base: { facts: { takenAt } },
    measure: (...given: unknown[]) => ask('measure', given),
    check: (...given: unknown[]) => ask('check', given),
    close: () => closed++,
  } as unknown as Sweep
  return { sweep, asked, closed: () => closed }
}
const settled = () => new Promise((resolve) => setImmediate(resolve))

describe('exposures of a sweep', () => {
  const stopsOf = (exposures: readonly (number | null)[], said: StopsByName | null = null) => {
    const model = createSweepModel(swept(exposures).sweep, signal(null), null, said)
    const found = { stops: model.stops.value, said: model.stopsByName() }
    model.dispose()
    return found
  }

  test('are stops from the first that is stated, to a hundredth', () => {
    expect(stopsOf([1 / 30, 1 / 60, 1 / 250]).stops).toEqual([0, -1, -3.06])
    expect(stopsOf([null, 0.5, 0.25]).stops).toEqual([null, 0, -1])
    expect(stopsOf([null, null]).stops).toEqual([null, null])
  })

  test('that nobody stated are as a person said of that photo, and are told again so', () => {
    const said = new Map([
      ['0.jpg', 3],
      ['1.jpg', -2],
    ])
    // What the camera has written counts more.
    const found = stopsOf([0.5, null, null], said)
    expect(found.stops).toEqual([0, -2, null])
    expect([...found.said]).toEqual([['1.jpg', -2]])
  })
})

describe('a sweep that is read', () => {
  const FOUR = [1, 0.5, 0.25, 0.125]

  test('is asked once region and all exposures are there, and anew for another region', async () => {
    const { sweep, asked, closed } = swept([1, 0.5, 0.25, null])
    const region = signal<Region | null>(null)
    const model = createSweepModel(sweep, region, null)
    region.value = HERE
    expect([asked.length, model.progress.value]).toEqual([0, null])
    model.stops.value = [0, -1, -2, -3]
    await settled()
    const [first] = asked
    expect(first).toMatchObject({
      what: 'measure',
      given: [HERE, [1, 0.5, 0.25, 0.125], { card: null, channelOdds: 1 }],
    })
    expect(model.progress.value).toBe(0)
    ;(first!.given[2] as { onProgress(share: number): void }).onProgress(0.5)
    expect(model.progress.value).toBe(0.5)
    first!.answer({ kind: 'measured' })
    await settled()
    expect([model.result.value, model.check.value, model.progress.value]).toEqual([
      { kind: 'measured' },
      null,
      null,
    ])
    region.value = THERE
    expect([model.result.value, model.progress.value]).toEqual([null, 0])
    await settled()
    expect(asked[1]!.given[0]).toBe(THERE)
    model.dispose()
    expect(closed()).toBe(1)
  })

  test('is held against the kept curve first, whose kind then counts', async () => {
    const { sweep, asked } = swept(FOUR, '2026-05-04T10:00:00Z')
    const card = signal<Region | null>(THERE)
    const model = createSweepModel(sweep, signal(HERE), KEPT, null, card)
    expect(model.checkOnly).toBe(false)
    await settled()
    expect(asked.map(({ what }) => what)).toEqual(['check'])
    expect(asked[0]!.given.slice(0, 3)).toEqual([KEPT.curve, HERE, FOUR])
    asked[0]!.answer(HOLDS)
    await settled()
    expect(asked[1]).toMatchObject({ what: 'measure', given: [HERE, FOUR, { card: THERE }] })
    expect(asked[1]!.given[2]).toMatchObject({ channelOdds: 12 })
    asked[1]!.answer({ kind: 'refused' })
    await settled()
    expect([model.check.value, model.result.value]).toEqual([HOLDS, { kind: 'refused' }])
    model.dispose()
  })

  test('of too few photos only checks the kept curve', async () => {
    const { sweep, asked } = swept(FOUR.slice(0, 3))
    const model = createSweepModel(sweep, signal(HERE), KEPT)
    expect(model.checkOnly).toBe(true)
    await settled()
    asked[0]!.answer(HOLDS)
    await settled()
    expect(asked).toHaveLength(1)
    expect([model.check.value, model.result.value, model.progress.value]).toEqual([
      HOLDS,
      null,
      null,
    ])
    model.dispose()
    // Without one there is nothing to be checked.
    const without = createSweepModel(swept(FOUR.slice(0, 3)).sweep, signal(null), null)
    expect(without.checkOnly).toBe(false)
    without.dispose()
  })
})

test.each([
  ['automatic', 'this photo', true, THERE],
  ['unknown', 'this photo', true, THERE],
  ['automatic', 'this photo', false, null],
  ['automatic', 'other photo', true, null],
  ['daylight', 'this photo', true, null],
])('a card is followed with a balance that is %s, where it lies in %s (placed: %s)', (...of) => {
  const [kind, source, placed, expected] = of
  const grey = {
    greySource: signal({ kind: source }),
    cardPlaced: signal(placed),
    cardRegion: signal(THERE),
  } as unknown as Parameters<typeof cardToFollow>[0]
  const balanceState = { kind, colourTemperatureK: null } as typeof FIRST_CHOICES.balanceState
  expect(cardToFollow(grey, signal({ ...FIRST_CHOICES, balanceState })).value).toBe(expected)
})
