import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest'
import { type Frame, frameBytes, framesIn } from '../../../src/log/journal/frames.ts'
import { closeTestLogs, draft } from '../opening.ts'
import { busyLog, deleteDatabase, place } from './journaled-log.ts'

/**
 * The journal's files damaged at random, the database gone: the log opens, gives back only what was
 * saved, counts what is missing, and takes new readings.
 */

afterEach(() => {
  closeTestLogs()
  vi.restoreAllMocks()
})

type Bytes = Uint8Array<ArrayBuffer>

/** Numerical Recipes, 7.1: the same damage in each run. */
function randomOf(seed: number) {
  let state = seed
  const next = () => {
    state = (Math.imul(1664525, state) + 1013904223) >>> 0
    return state / 2 ** 32
  }
  return { below: (end: number) => Math.floor(next() * end) }
}
type Random = ReturnType<typeof randomOf>

const KINDS: Record<string, (bytes: Bytes, random: Random) => Bytes> = {
  'bits that turn': (bytes, { below }) => {
    const out = bytes.slice()
    for (let n = 0; n < 3; n++) {
      const at = below(out.length)
      out[at] = out[at]! ^ (1 << below(8))
    }
    return out
  },
  'an end that is cut': (bytes, { below }) => bytes.slice(0, below(bytes.length)),
  'a sector of zeros': (bytes, { below }) => bytes.slice().fill(0, below(bytes.length)).slice(),
  'a piece written twice': (bytes, { below }) => {
    const from = below(bytes.length)
    return new Uint8Array([...bytes.subarray(0, from), ...bytes.subarray(from >> 1)])
  },
  'another file in its place': (bytes, { below }) => bytes.map(() => below(256)),
}

type TestLog = Awaited<ReturnType<ReturnType<typeof place>['open']>>
const objectsOf = async (log: TestLog) => (await log.newest(100)).map(({ object }) => object)

/** A log of one busy day, as its files hold it. */
const day = {
  segments: new Map<string, Bytes>(),
  pictures: new Map<string, Bytes>(),
  objects: [] as string[],
  listed: 3,
}
let name = ''
beforeAll(async () => {
  const made = place()
  const { log } = await busyLog(made.open)
  // One of them was removed: cut short, the journal may end before that.
  day.objects = ['first', 'second', 'third']
  log.close()
  // A second tab has a segment of its own.
  const beside = await made.open()
  await beside.add(draft({ object: 'beside' }))
  day.objects.push('beside')
  beside.close()
  day.segments = new Map(made.files.content)
  day.pictures = new Map(made.files.pictureBytes)
  name = made.name
  await deleteDatabase(name)
})

/** Opens what such files give; the database is gone. */
async function openedFrom(segments: Map<string, Bytes>) {
  const { files, open } = place()
  for (const [file, bytes] of segments) files.content.set(file, bytes)
  for (const [file, bytes] of day.pictures) files.pictureBytes.set(file, bytes)
  return open()
}

async function isSound(log: TestLog) {
  const count = await log.count()
  expect((await log.find()).count).toBe(count)
  const objects = await objectsOf(log)
  expect(objects).toHaveLength(count)
  for (const object of objects) expect(day.objects).toContain(object)
  expect(await log.check()).toEqual([])
  await log.add(draft({ object: 'new' }))
  expect(await log.count()).toBe(count + 1)
  return count
}

test('undamaged, all of it comes back', async () => {
  expect(await isSound(await openedFrom(day.segments))).toBe(day.listed)
})

describe.each(Object.entries(KINDS))('%s', (_kind, damage) => {
  test.each(Array.from({ length: 8 }, (_, n) => n + 1))('of the journal, draw %i', async (seed) => {
    const random = randomOf(seed)
    const names = [...day.segments.keys()]
    const hit = names[random.below(names.length)]!
    const segments = new Map(day.segments)
    segments.set(hit, damage(segments.get(hit)!, random))
    expect(await isSound(await openedFrom(segments))).toBeLessThanOrEqual(day.objects.length)
  })
})

/** Texts that no version writes, in frames whose check sums are right. */
const TEXTS: Record<string, string> = {
  'no JSON': '{',
  'no list': '{"readings":1}',
  'nothing in the list': '[null]',
  'a store that is not there': '[["__proto__","a",{}],["nowhere","a",{}]]',
  'a row without its key': '[["readings","a",{"object":"x"}]]',
  'a row that is none': '[["readings","a",7],["kit","b",null]]',
  'a key that cannot be one': '[["settings",{"a":1},"F"],["readings",null]]',
  'bytes that are none': '[["pictures","a",{"id":"a","bytes":{"$bytes":"%%%"}}]]',
}

async function framesOf(bytes: Bytes): Promise<Frame[]> {
  const frames: Frame[] = []
  for await (const { kind, turn, text } of framesIn(new Blob([bytes])))
    frames.push({ kind, turn, text })
  return frames
}

test('a segment whose head says nothing is left out, and the others are read', async () => {
  for (const text of ['{', 'null', '{"epoch":7}']) {
    const segments = new Map(day.segments)
    segments.set('0 strange', frameBytes({ kind: 'header', turn: 0, text }))
    expect(await isSound(await openedFrom(segments))).toBe(day.listed)
  }
})

test.each(Object.entries(TEXTS))('a sound frame with %s leaves the log open', async (_, text) => {
  const segments = new Map<string, Bytes>()
  for (const [file, bytes] of day.segments) {
    const frames = await framesOf(bytes)
    const hit = frames.findLastIndex(({ kind }) => kind === 'end')
    const parts = frames.map((frame, i) => frameBytes(i === hit ? { ...frame, text } : frame))
    segments.set(file, new Uint8Array(await new Blob(parts).arrayBuffer()))
  }
  const log = await openedFrom(segments)
  // All but what those frames held.
  expect(await isSound(log)).toBeGreaterThan(0)
})
