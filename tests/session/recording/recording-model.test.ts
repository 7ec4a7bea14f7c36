import { describe, expect, test } from 'vitest'
import type { Plateau } from '../../../src/estimate/recording/plateaus.ts'
import type { Log } from '../../../src/log/schema/types.ts'
import { detailsOf } from '../../../src/session/recording/recording-details.ts'
import { createRecordingModel } from '../../../src/session/recording/recording-model.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'

const COUNT = 60
const floats = (of: (i: number) => number) => Float32Array.from({ length: COUNT }, (_, i) => of(i))
const columns = {
  ms: Uint32Array.from({ length: COUNT }, (_, i) => 1000 * i),
  temperatureK: floats((i) => 1300 - i),
  noiseK: floats(() => 1),
  commonK: floats(() => 6),
  lnRatio: floats(() => -2),
  lnRed: floats(() => -1),
  flags: new Uint8Array(COUNT),
}
const STORED = { head: { source: 'live', durationSeconds: 59 }, columns, details: null }
const PLATEAU = {
  kind: 'plateau',
  during: 'cooling',
  fromSeconds: 20,
  toSeconds: 40,
  levelK: 1280,
  levelUncertaintyK: 8,
} as unknown as Plateau

/** A bench that answers when told to, and remembers what it was asked. */
function made({
  stored = STORED as unknown,
  missing = false,
  failing = null as Error | null,
} = {}) {
  const asked: [string, unknown][] = []
  const answer =
    <T>(name: string, value: T) =>
    async (of: unknown) => {
      asked.push([name, of])
      if (failing && name !== 'open') throw failing
      return value
    }
  let closed = 0
  const bench = {
    open: answer('open', { peak: { temperatureK: 1300 }, course: null, plateaus: [PLATEAU] }),
    slopeAt: answer('slopeAt', { slope: -1 }),
    part: answer('part', { slope: null, laws: [] }),
    times: answer('times', { passage: null, above: { seconds: 20, standardUncertainty: 1 } }),
    close: () => closed++,
  }
  const changed: unknown[] = []
  const log = {
    recordings: {
      get: async () => (missing ? undefined : stored),
      change: async (_: string, changes: object) => {
        changed.push(changes)
        return { ...STORED.head, ...changes }
      },
    },
  } as unknown as Log
  const model = createRecordingModel(Promise.resolve(log), 'one', bench as never)
  const questions = (name: string) => asked.filter(([of]) => of === name).map(([, of]) => of)
  return { model, questions, changed, closed: () => closed }
}
const read = async (of: ReturnType<typeof made>) => {
  await expect.poll(() => of.model.plateaus.value).not.toBeNull()
  return of.model
}

describe('a stored recording', () => {
  test('is read with its curve, its peak and its plateaus', async () => {
    const model = await read(made())
    expect(model.curve.value?.seconds[1]).toBe(1)
    expect(model.curve.value?.temperatureK[1]).toBe(1299)
    expect(model.peak.value).toMatchObject({ temperatureK: 1300 })
    expect(model.plateaus.value?.map(({ plateau }) => plateau)).toEqual([PLATEAU])
    // A level is as unsure as itself and what shifts the whole curve.
    expect(model.uncertaintyAt(PLATEAU)).toBeCloseTo(Math.hypot(8, 6), 9)
    model.dispose()
  })

  test('that is not there is told as such', async () => {
    const { model } = made({ missing: true })
    await expect.poll(() => model.stored.value).toBeUndefined()
    expect(model.curve.value).toBeNull()
    expect(model.failure.value).toBeNull()
    model.dispose()
  })

  test('asks for the rate at the cursor, once there is one', async () => {
    const of = made()
    const model = await read(of)
    expect(of.questions('slopeAt')).toEqual([])
    model.cursor.value = 12
    await expect.poll(() => model.place.value).toEqual({ seconds: 12, slope: { slope: -1 } })
    expect(of.questions('slopeAt')).toEqual([12])
    model.dispose()
  })

  test('asks for laws only where somebody wants them: of the whole, or of a stretch', async () => {
    const of = made()
    const model = await read(of)
    expect(of.questions('part')).toEqual([])
    model.askPart()
    await expect.poll(() => model.part.value).not.toBeNull()
    expect(of.questions('part')[0]).toMatchObject({ from: 0, to: 59, roomK: 293.15 })
    model.stretch.value = { from: 10, to: 20 }
    await expect.poll(() => of.questions('part')[1]).toMatchObject({ from: 10, to: 20 })
    model.dispose()
  })

  test('asks for times from a level on, and forgets them without one', async () => {
    const of = made()
    const model = await read(of)
    model.levels.value = { fromK: null, toK: 1200 }
    expect(of.questions('times')).toEqual([])
    model.levels.value = { fromK: 1250, toK: null }
    await expect.poll(() => model.above.value).toMatchObject({ seconds: 20 })
    model.levels.value = { fromK: null, toK: null }
    expect(model.above.value).toBeNull()
    expect(model.passage.value).toBeNull()
    model.dispose()
  })

  test('says what the bench failed with, but not that a later question took its place', async () => {
    const failure = new Error('worker gone')
    const model = await read(made({ failing: failure }))
    model.cursor.value = 12
    await expect.poll(() => model.failure.value).toBe(failure)
    expect(model.place.value).toBeNull()
    const overtaken = Object.assign(new Error('later'), { name: 'AbortError' })
    const calm = await read(made({ failing: overtaken }))
    calm.cursor.value = 12
    await new Promise((resolve) => setImmediate(resolve))
    expect(calm.failure.value).toBeNull()
  })

  test('keeps what is changed of it', async () => {
    const of = made()
    const model = await read(of)
    await model.change({ object: 'bar' } as never)
    expect(of.changed).toEqual([{ object: 'bar' }])
    expect(model.stored.value?.head).toMatchObject({ object: 'bar', durationSeconds: 59 })
    model.dispose()
    expect(of.closed()).toBe(1)
  })

  test('is put through a second melt only where both lie on one curve', async () => {
    const first = { seconds: 5, readK: 1290, temperatureK: 1290, standardUncertaintyK: 3, name: '' }
    const model = await read(
      made({ stored: { ...STORED, details: detailsOf([], null, 0.6, [first]) } }),
    )
    const [offer] = model.plateaus.value!
    const melt = (temperatureK: number) =>
      model.setsCurve(offer!, { temperatureK, pointUncertaintyK: 1, name: '' } as never)
    // It reads 1280 ± 8 K.
    expect([melt(1284), melt(1400)]).toEqual(['agrees', 'heats disagree'])
    model.dispose()
  })

  test('of a table gives no known heat, and its curve is put through none', async () => {
    const table = { ...STORED, head: { ...STORED.head, source: 'table' } }
    const model = await read(made({ stored: table }))
    const [offer] = model.plateaus.value!
    const meaning = offer!.meanings[0] ?? ({ temperatureK: 1280 } as never)
    expect(offer!.reference(meaning)).toBeNull()
    expect(model.setsCurve(offer!, meaning)).toBeNull()
    expect(await model.keepReference(offer!, meaning)).toBeNull()
    model.dispose()
  })

  test('is put through a melt at its middle, twice at most, and is another recording then', async () => {
    const heat = { readK: 1290, temperatureK: 1290, standardUncertaintyK: 3, name: '' }
    const setBy = async (...seconds: number[]) => {
      const heats = seconds.map((at) => ({ ...heat, seconds: at }))
      const model = await read(
        made({ stored: { ...STORED, details: detailsOf([], null, 0.6, heats) } }),
      )
      const meaning = { temperatureK: 1284, pointUncertaintyK: 1, name: 'Salt' } as never
      const said = model.setsCurve(model.plateaus.value![0]!, meaning)
      model.dispose()
      return said
    }
    // The plateau lasts from 20 to 40 s.
    expect([await setBy(), await setBy(5)]).toEqual(['agrees', 'agrees'])
    for (const there of [[20], [40], [5, 50]]) expect(await setBy(...there)).toBeNull()
  })

  test('knows nothing of a plateau before it was read, and asks nothing once it is put away', async () => {
    const of = made()
    const offer = { plateau: PLATEAU, meanings: [], reference: () => null }
    expect(of.model.uncertaintyAt(PLATEAU)).toBe(8)
    expect(await of.model.setBy(offer, { temperatureK: 1284 } as never, 'bar')).toBeNull()
    const model = await read(of)
    model.cursor.value = 12
    model.dispose()
    await new Promise((resolve) => setImmediate(resolve))
    expect(model.place.value).toBeNull()
    model.cursor.value = 13
    expect(of.questions('slopeAt')).toEqual([12])
    const early = made()
    early.model.dispose()
    await new Promise((resolve) => setImmediate(resolve))
    expect([early.model.stored.value, early.questions('open')]).toEqual([null, []])
  })

  test('that is put through a melt keeps the first beside it in the log', async () => {
    const log = await openTestLog()
    const head = await log.recordings.add(
      {
        source: 'live',
        simulated: false,
        startedAt: { iso: '2026-05-04T10:00:00.000Z', zone: 'UTC' },
        cameraId: 'Made-up',
        methodVersion: '1',
        object: 'pot',
      },
      columns as never,
      detailsOf([], null),
    )
    const bench = { open: async () => ({ peak: null, course: null, plateaus: [PLATEAU] }) }
    const model = createRecordingModel(Promise.resolve(log), head.id, {
      ...bench,
      close: () => undefined,
    } as never)
    await expect.poll(() => model.plateaus.value).not.toBeNull()
    const [offer] = model.plateaus.value!
    const melt = { temperatureK: 1284, pointUncertaintyK: 1, name: 'Salt' } as never
    const id = await model.setBy(offer!, melt, 'pot, set')
    const set = (await log.recordings.get(id!))!
    expect(set.head.object).toBe('pot, set')
    expect(set.details).toMatchObject({
      heats: [{ seconds: 30, name: 'Salt', temperatureK: 1284 }],
    })
    expect((await log.recordings.list()).items).toHaveLength(2)
    // The melt within steel sets nothing.
    expect(
      await model.setBy(offer!, { ...(melt as object), inSteel: true } as never, ''),
    ).toBeNull()
    model.dispose()
    closeTestLogs()
  })
})
