import { strToU8, zipSync } from 'fflate'
import { afterEach, describe, expect, it } from 'vitest'
import { columnsOfCsv, recordingCsv } from '../../src/log/recordings/recording-csv.ts'
import type { Reading } from '../../src/log/schema/types.ts'
import { fileOf, jsonFile, refusal } from './importing.ts'
import { closeTestLogs, draft, jpegWithMetadata, openTestLog } from './opening.ts'

afterEach(closeTestLogs)

/** Why a file is refused; null: it is read. */
async function refused(file: Blob): Promise<string | null> {
  const log = await openTestLog()
  const preview = log.readFile(file)
  return preview.then(
    async (found) => {
      await found.discard()
      return null
    },
    async () => (await refusal(preview)).code,
  )
}

describe('a file of the log is read', () => {
  const nested = (levels: number) => {
    let value: unknown = 1
    for (let i = 0; i < levels; i++) value = [value]
    return value
  }
  // Each on both sides: what is read, and what is refused.
  it.each<readonly [string, Blob, Blob]>([
    ['with a hundred members', fileOf([], named(96)), fileOf([], named(97))],
    [
      'with a member of 10,000 characters',
      fileOf([], { about: 'x'.repeat(9998) }),
      fileOf([], { about: 'x'.repeat(9999) }),
    ],
    ['nested 48 deep', fileOf([], { about: nested(46) }), fileOf([], { about: nested(47) })],
  ])('%s', async (_, inside, outside) => {
    expect(await refused(inside)).toBeNull()
    expect(await refused(outside)).toBe('too large')
  })

  it('from the first version on, in whole numbers', async () => {
    const of = (version: unknown) =>
      refused(jsonFile({ schema: 'glowbook-log', version, readings: [] }))
    expect(await of(1)).toBeNull()
    for (const version of [0, -1, 1.5, '1', null]) expect(await of(version)).toBe('not ours')
  })
})

describe('a ZIP is read', () => {
  const head = '{"schema":"glowbook-log","version":2,"readings":['
  const zipped = (text: string) => {
    const bytes = zipSync({ 'log.json': strToU8(`${head}${text}]}`) })
    return new Blob([bytes.slice()])
  }

  it('that swells, while it is small', async () => {
    // Blanks swell a thousandfold.
    expect(await refused(zipped(' '.repeat(990_000)))).toBeNull()
    expect(await refused(zipped(' '.repeat(1_010_000)))).toBe('too large')
  })

  it('that is large, while it swells by no more than 250 times', async () => {
    let state = 1
    // Letters that hardly shrink, as the text of a member, and blanks that do.
    const letters = Array.from({ length: 9000 }, () => {
      state = (Math.imul(state, 1664525) + 1013904223) >>> 0
      return String.fromCharCode(97 + ((state >>> 8) % 26))
    }).join('')
    const swelling = (count: number) => {
      const text = `{"schema":"glowbook-log","version":2,"about":"${letters.slice(0, count)}",${' '.repeat(1_500_000)}"readings":[]}`
      const bytes = zipSync({ 'log.json': strToU8(text) })
      const view = new DataView(bytes.buffer)
      const directory = view.getUint32(bytes.length - 6, true)
      const ratio = view.getUint32(directory + 24, true) / view.getUint32(directory + 20, true)
      return { file: new Blob([bytes.slice()]), ratio }
    }
    let [few, many] = [1000, 9000]
    while (many - few > 20) {
      const middle = Math.round((few + many) / 2)
      if (swelling(middle).ratio > 250) few = middle
      else many = middle
    }
    const [over, under] = [swelling(few), swelling(many)]
    expect(over.ratio - under.ratio).toBeLessThan(2)
    expect(await refused(under.file)).toBeNull()
    expect(await refused(over.file)).toBe('too large')
  })

  it('with the longest comment that there can be', async () => {
    const bytes = new Uint8Array(await zipped('').arrayBuffer())
    const comment = (length: number) => {
      const whole = new Uint8Array(bytes.length + length).fill(0x78)
      whole.set(bytes)
      new DataView(whole.buffer).setUint16(bytes.length - 2, length, true)
      return new Blob([whole])
    }
    expect(await refused(comment(65_535))).toBeNull()
  })
})

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

  it('whose times rise, up to 49 days', () => {
    expect(reads('0,1200', '0.001,1201')).toBe(2)
    expect(reads('0.001,1200', '0.001,1201')).toBeNull()
    expect(reads('-0.001,1200')).toBeNull()
    // Milliseconds in 32 bits.
    expect(reads('4294967.295,1200')).toBe(1)
    expect(reads('4294967.296,1200')).toBeNull()
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
