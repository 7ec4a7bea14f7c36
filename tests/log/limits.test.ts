import * as v from 'valibot'
import { afterEach, describe, expect, it } from 'vitest'
import { columnsOfCsv, recordingCsv } from '../../src/log/recordings/recording-csv.ts'
import { recordingChanges } from '../../src/log/recordings/recording-schema.ts'
import type { Reading } from '../../src/log/schema/types.ts'
import { closeTestLogs, draft, jpegWithMetadata, openTestLog } from './opening.ts'

afterEach(closeTestLogs)

describe('what the log takes', () => {
  it('of a setting: eight levels, 100,000 characters', async () => {
    const { settings } = await openTestLog()
    const takes = (value: unknown) =>
      settings.set('size', value as never).then(
        () => true,
        () => false,
      )
    const nested = (levels: number) => JSON.parse(`${'['.repeat(levels)}${']'.repeat(levels)}`)
    expect([await takes(nested(8)), await takes(nested(9))]).toEqual([true, false])
    expect([await takes('x'.repeat(99_990)), await takes('x'.repeat(100_010))]).toEqual([
      true,
      false,
    ])
  })

  it('of a picture: four megabytes', async () => {
    const log = await openTestLog()
    const [jpeg] = [jpegWithMetadata()]
    // Its scan made long, the end of the picture after it.
    const at = jpeg.length - 'trailing preview'.length - 2
    const picture = (bytes: number) => {
      const whole = new Uint8Array(bytes)
      whole.set(jpeg.subarray(0, at))
      whole.set([0xff, 0xd9], bytes - 2)
      return { blob: new Blob([whole], { type: 'image/jpeg' }), width: 8, height: 8 }
    }
    const takes = (bytes: number) =>
      log.add(draft(), picture(bytes)).then(
        () => true,
        () => false,
      )
    expect([await takes(4_000_000), await takes(4_000_001)]).toEqual([true, false])
  })

  it('of a reading: sixty terms of a budget, tags and parts as many as are listed', async () => {
    const log = await openTestLog()
    const many = <Of>(count: number, of: (i: number) => Of) =>
      Array.from({ length: count }, (_, i) => of(i))
    const takes = (change: object) =>
      log.add(draft(change as never)).then(
        () => true,
        () => false,
      )
    const budget = (count: number) => ({
      result: {
        ...(draft().result as object),
        budget: many(count, () => ({ term: 'noise', contributionK: 1, sharedBy: null })),
      },
    })
    const tags = (count: number, length = 3) => ({
      tags: many(count, (i) => `${i}`.padEnd(length, 'x')),
    })
    for (const [inside, outside] of [
      [budget(60), budget(61)],
      [tags(40), tags(41)],
      [tags(1, 60), tags(1, 61)],
      [{ tags: ['x'] }, { tags: [''] }],
      [{ inputs: named(2000) }, { inputs: named(2001) }],
    ])
      expect([await takes(inside!), await takes(outside!)]).toEqual([true, false])
  })
})

describe('what is changed of a recording', () => {
  const marks = (count: number, seconds = 1) =>
    v.is(recordingChanges, { marks: new Array(count).fill({ seconds, name: 'stirred', note: '' }) })

  it('are 500 marks, within its eleven days at most', () => {
    expect([marks(500), marks(501)]).toEqual([true, false])
    expect([marks(1, 1e6), marks(1, 1.05e6)]).toEqual([true, false])
  })
})

describe('a table of a recording is read', () => {
  const HEADER = recordingCsv({
    head: {},
    columns: {
      ms: new Float64Array(0),
      temperatureK: [],
      noiseK: [],
      commonK: [],
      lnRatio: [],
      lnRed: [],
      flags: [],
    },
  } as never).split(/\r?\n/)[0]!
  const reads = (...lines: string[]) => {
    try {
      return columnsOfCsv([HEADER, ...lines].join('\n')).ms.length
    } catch {
      return null
    }
  }

  it('with one to 80,000 readings', () => {
    const rows = (count: number) => Array.from({ length: count }, (_, i) => `${i},1200`)
    expect([reads(), reads('0,1200')]).toEqual([null, 1])
    expect(reads(...rows(80_000))).toBe(80_000)
    expect(reads(...rows(80_001))).toBeNull()
  })

  it('whose times rise, up to eleven days', () => {
    expect(reads('0,1200', '0.001,1201')).toBe(2)
    expect(reads('0.001,1200', '0.001,1201')).toBeNull()
    expect(reads('-0.001,1200')).toBeNull()
    expect(reads('1000000,1200')).toBe(1)
    expect(reads('1000000.001,1200')).toBeNull()
  })
})

describe('a clock', () => {
  it('that stands a day behind what was saved is told', async () => {
    const { name, reading } = await saved()
    const behind = async (hours: number) => {
      const now = () => new Date(Date.parse(reading.savedAt) - 3_600_000 * hours)
      return (await (await openTestLog({ name, now })).status()).clockBehind
    }
    expect(await behind(23)).toBeNull()
    expect(await behind(25)).toBe(new Date(reading.savedAt).toISOString())
  })

  async function saved(): Promise<{ name: string; reading: Reading }> {
    const name = 'log of a clock'
    const log = await openTestLog({ name })
    return { name, reading: await log.add(draft()) }
  }
})

function named(count: number, start = 'n') {
  return Object.fromEntries(Array.from({ length: count }, (_, i) => [`${start}${i}`, 1]))
}
