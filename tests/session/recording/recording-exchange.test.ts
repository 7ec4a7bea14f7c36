import { afterEach, describe, expect, test, vi } from 'vitest'
import { peakOf } from '../../../src/estimate/recording/course.ts'
import { RefusedFile } from '../../../src/log/import/refused.ts'
import { columnsOfCsv } from '../../../src/log/recordings/recording-csv.ts'
import type { Log } from '../../../src/log/schema/types.ts'
import { curveOf } from '../../../src/session/recording/curve-of.ts'
import { storedDetails } from '../../../src/session/recording/recording-details.ts'
import {
  exportRecording,
  importRecordings,
} from '../../../src/session/recording/recording-exchange.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'

afterEach(closeTestLogs)

/** What is kept of a bare table as the share by which its rate is unsure. */
async function rateShareOf(text: string): Promise<number> {
  const add = vi.fn()
  await importRecordings({ recordings: { add } } as unknown as Log, new File([text], 'bar.csv'))
  return storedDetails(add.mock.calls[0]![2]).rateShare
}

test('a table of a thermometer has no uncertainty of a camera in its rate, one of a camera has', async () => {
  expect(await rateShareOf('time (s),temperature (K)\n0,1200\n1,1195\n2,1190\n')).toBe(0)
  expect(await rateShareOf('time (s),temperature (K),ln(G/R)\n0,1200,-2.1\n1,1195,-2.12\n')).toBe(
    0.6,
  )
})

test('a bare table is a recording of its own, named and dated by its file', async () => {
  const log = await openTestLog()
  const named = async (name: string) => {
    const lastModified = Date.parse('2026-05-04T10:00:00Z')
    const file = new File(['time (s),temperature (K)\n0,1200\n1,1195\n'], name, { lastModified })
    expect(await importRecordings(log, file)).toEqual({ added: 1, kept: 0 })
    return (await log.recordings.list()).items.map(({ object }) => object)
  }
  expect(await named('bar 2.slow.csv')).toEqual(['bar 2.slow'])
  expect(await named(`${'x'.repeat(250)}.csv`)).toContain('x'.repeat(200))
  const [head] = (await log.recordings.list()).items
  expect(head).toMatchObject({
    source: 'table',
    simulated: false,
    cameraId: '',
    methodVersion: '',
  })
  expect(Date.parse(head!.startedAt.iso)).toBe(Date.parse('2026-05-04T10:00:00Z'))
  expect((await log.recordings.get(head!.id))?.details).toMatchObject({ looks: [], facts: null })
})

describe('a recording as a file', () => {
  /** The file that leaves by the share sheet. */
  async function exported() {
    const log = await openTestLog()
    const { recordings } = log
    await importRecordings(log, new File(['time (s),temperature (K)\n0,1200\n1,1195\n'], 'bar.csv'))
    const [head] = (await recordings.list()).items
    const files: File[] = []
    vi.stubGlobal('navigator', {
      canShare: () => true,
      share: async (given: { files: File[] }) => void files.push(...given.files),
    })
    const stored = (await recordings.get(head!.id))!
    expect(await exportRecording(stored, new Date('2026-05-04T10:00:00Z'))).toBe('shared')
    return { log, stored, file: files[0]! }
  }

  test('comes back as it was, and once', async () => {
    const { log, stored, file } = await exported()
    expect(file.name).toMatch(/^glowbook-recording-\d{4}-\d\d-\d\d\.zip$/)
    expect(await importRecordings(log, file)).toEqual({ added: 0, kept: 1 })
    const other = await openTestLog()
    expect(await importRecordings(other, file)).toEqual({ added: 1, kept: 0 })
    expect(await other.recordings.get(stored.head.id)).toEqual(stored)
  })

  test('that is damaged adds nothing', async () => {
    const { file } = await exported()
    const bytes = new Uint8Array(await file.arrayBuffer())
    bytes[bytes.length >> 1]! ^= 0xff
    const other = await openTestLog()
    await expect(importRecordings(other, new File([bytes], file.name))).rejects.toThrow()
    expect((await other.recordings.list()).items).toEqual([])
  })
})

test('a table without uncertainties has a peak with that of its scatter', () => {
  const columns = columnsOfCsv('time (s),temperature (K)\n0,1200\n1,1195\n2,1190\n3,1186\n')
  expect(peakOf(curveOf(columns))?.standardUncertaintyK).toBeGreaterThanOrEqual(0)
})

test('a table larger than any recording is refused before it is read', async () => {
  const text = vi.fn()
  const file = { size: 20_000_000, slice: () => new Blob(['time']), text } as unknown as File
  const refused = await importRecordings({} as Log, file).catch((error: unknown) => error)
  expect(refused).toBeInstanceOf(RefusedFile)
  expect((refused as RefusedFile).refusal).toEqual({ code: 'too large', where: '20 MB' })
  expect(text).not.toHaveBeenCalled()
})
