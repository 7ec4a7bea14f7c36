import { afterEach, describe, expect, test } from 'vitest'
import { RefusedFile } from '../../../src/log/import/refused.ts'
import { emptyColumns, FLAGS } from '../../../src/log/recordings/columns.ts'
import {
  columnsOfCsv,
  recordingCsv,
  recordingFromFiles,
  recordingMetadata,
} from '../../../src/log/recordings/recording-csv.ts'
import { recordingsInZip } from '../../../src/log/recordings/recording-files.ts'
import type { StoredRecording } from '../../../src/log/recordings/types.ts'
import { bytesOf, closeTestLogs, openTestLog } from '../opening.ts'

afterEach(closeTestLogs)

async function stored(): Promise<StoredRecording> {
  const { recordings } = await openTestLog()
  const columns = emptyColumns(30)
  for (let i = 0; i < 30; i++) {
    columns.ms[i] = 200 * i
    columns.temperatureK[i] = i === 7 ? Number.NaN : 1300 - 2.5 * i
    columns.noiseK[i] = 0.5
    columns.commonK[i] = 12
    columns.lnRatio[i] = -2 - i / 64
    columns.flags[i] = i === 7 ? FLAGS.lost | FLAGS['exposure changed'] : 0
  }
  const { id } = await recordings.add(
    {
      source: 'live',
      simulated: false,
      startedAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: 'Europe/Vienna' },
      cameraId: 'a camera',
      methodVersion: '7',
      object: 'Bar, "in" the air',
      marks: [{ seconds: 2, name: 'Power off', note: 'by hand, at once' }],
    },
    columns,
    { looks: [], facts: null },
  )
  return (await recordings.get(id))!
}

describe('a recording as CSV on the Web', () => {
  test('comes back from table and metadata as it was', async () => {
    const before = await stored()
    const metadata = JSON.stringify(recordingMetadata(before, 'x.csv'))
    const after = recordingFromFiles(recordingCsv(before), metadata)
    expect(after).toEqual(before)
  })

  test('has context, url, and a column for each title of the table (W3C tabular metadata, 5.4, 5.6)', async () => {
    const before = await stored()
    const meta = recordingMetadata(before, 'x.csv') as unknown as {
      '@context': unknown[]
      url: string
      tableSchema: { columns: { name: string; titles: string; datatype: string }[] }
    }
    expect(meta['@context'][0]).toBe('http://www.w3.org/ns/csvw')
    expect(meta.url).toBe('x.csv')
    const [header] = recordingCsv(before).split('\r\n')
    expect(meta.tableSchema.columns.map(({ titles }) => titles).join(',')).toBe(header)
    // Names must not begin with an underscore, and be fit for a URI template (RFC 6570).
    for (const { name } of meta.tableSchema.columns) expect(name).toMatch(/^[a-z][a-z_]*$/)
  })

  test('is read with blanks beside its titles, as other programs write them', async () => {
    const csv = recordingCsv(await stored())
    const [header = ''] = csv.split('\r\n')
    const spaced = csv.replace(header, header.replaceAll(',', ' , '))
    expect(columnsOfCsv(spaced)).toEqual(columnsOfCsv(csv))
  })

  test('a table that is none is refused with what is wrong', () => {
    const why = (text: string) => {
      try {
        columnsOfCsv(text)
      } catch (error) {
        return error instanceof RefusedFile && 'where' in error.refusal
          ? error.refusal.where
          : error
      }
    }
    expect(why('a,b\r\n1,2')).toMatch(/first line/)
    expect(why('time (s),temperature (K)\r\n1,1200\r\n1,1201')).toMatch(/line 3: times must rise/)
    expect(why('time (s),temperature (K)\r\n1,1200\r\n1000001,1201')).toMatch(
      /line 3: times must rise, to 1000000 s at most/,
    )
    expect(why('time (s),temperature (K)\r\n1,hot')).toMatch(/line 2/)
    expect(why('time (s),temperature (K)\r\n')).toMatch(/0 readings/)
  })
})

describe('the ZIP of the log', () => {
  test('holds recordings, and brings back those that are not here', async () => {
    const before = await stored()
    const from = await openTestLog()
    await from.recordings.put(before.head, before.columns, before.details)
    const file = new Blob([await bytesOf(from.export('zip'))])
    const found = []
    for await (const one of recordingsInZip(file)) found.push(one)
    expect(found).toEqual([before])

    const to = await openTestLog()
    const preview = await to.readFile(file)
    expect(preview.recordings).toBe(1)
    expect((await to.recordings.list()).items).toEqual([])
    await preview.merge({ conflicts: 'mine' })
    expect(await to.recordings.get(before.head.id)).toEqual(before)
    expect((await to.readFile(file)).recordings).toBe(0)
  })
})
