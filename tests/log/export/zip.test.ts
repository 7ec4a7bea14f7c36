import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { strFromU8, unzipSync } from 'fflate'
import { decode } from 'tiff'
import { afterEach, describe, expect, it } from 'vitest'
import { ZipWriter } from '../../../src/log/export/zip-writer.ts'
import { entryChunks, zipDirectory } from '../../../src/log/import/zip-reader.ts'
import type { Json } from '../../../src/log/schema/types.ts'
import { MAPS_TO_EXPORT } from '../../../src/session/log/maps-to-export.ts'
import { packedMap } from '../../../src/session/log/stored-map.ts'
import { madeMap } from '../../session/map/made-map.ts'
import { bytesOf, closeTestLogs, draft, jpegBlob, openTestLog, textOf } from '../opening.ts'

afterEach(closeTestLogs)

describe('the ZIP file', () => {
  async function filled() {
    const log = await openTestLog()
    const reading = await log.add(draft({ notes: 'größer' }), {
      blob: jpegBlob(),
      width: 3,
      height: 2,
    })
    await log.add(draft())
    return { log, reading }
  }

  it('is read by another library, pictures without place', async () => {
    const { log, reading } = await filled()
    const files = unzipSync(await bytesOf(log.export('zip')))
    expect(Object.keys(files)).toEqual(['log.json', `pictures/${reading.id}.jpg`])
    const json = JSON.parse(strFromU8(files['log.json']!)) as { readings: unknown[] }
    expect(json.readings).toHaveLength(2)
    const picture = files[`pictures/${reading.id}.jpg`]!
    expect(picture).toEqual(new Uint8Array(await (await log.picture(reading.id))!.arrayBuffer()))
    expect(strFromU8(picture, true)).not.toMatch(/GPS|Exif/)
  })

  it('holds the map of each reading that kept one, as a picture another program reads', async () => {
    const log = await openTestLog()
    const { id } = await log.add(
      draft({ details: { map: packedMap(madeMap()) } as unknown as Json }),
    )
    await log.add(draft())
    const bytes = await bytesOf(log.export('zip', { maps: MAPS_TO_EXPORT }))
    const files = unzipSync(bytes)
    expect(Object.keys(files)).toEqual(['log.json', `maps/${id}.tif`])
    // Oracle: the tiff package.
    const [page] = decode(files[`maps/${id}.tif`]!)
    expect([page!.width, page!.height]).toEqual([40, 20])
    // It is left alone when the file comes back.
    const again = await openTestLog()
    const preview = await again.readFile(new Blob([bytes]))
    expect(preview.readings).toMatchObject({ new: 2 })
  })

  it('passes the check of the system’s unzip, where there is one', async (test) => {
    try {
      execFileSync('unzip', ['-v'])
    } catch {
      test.skip('no unzip here')
    }
    const { log } = await filled()
    const folder = mkdtempSync(join(tmpdir(), 'log-'))
    try {
      const file = join(folder, 'log.zip')
      writeFileSync(file, await bytesOf(log.export('zip')))
      expect(execFileSync('unzip', ['-t', file], { encoding: 'utf8' })).toContain('No errors')
    } finally {
      rmSync(folder, { recursive: true })
    }
  })

  it('holds more entries than the old format counts (ZIP64)', async () => {
    const zip = new ZipWriter(new Date(2025, 2, 1, 12, 30, 10))
    async function* chunks() {
      const content = new TextEncoder().encode('x')
      for (let i = 0; i < 65_535; i++) yield* zip.stored(`${i}`, content)
      yield* zip.end()
    }
    const bytes = await bytesOf(chunks())
    const file = new Blob([bytes])
    const entries = await zipDirectory(file)
    expect(entries).toHaveLength(65_535)
    expect(entries.at(-1)).toMatchObject({ name: '65534', size: 1, method: 0 })
    expect(await textOf(entryChunks(file, entries[65_533]!, 10))).toBe('x')
    // Record, locator and end (4.3.14 to 4.3.16), behind names of one to five digits.
    const names = 10 + 90 * 2 + 900 * 3 + 9000 * 4 + 55_535 * 5
    const [place, size] = [65_535 * 31 + names, 65_535 * 46 + names]
    const record = bytes.length - 56 - 20 - 22
    expect(record).toBe(place + size)
    const view = new DataView(bytes.buffer, record)
    const wide = (at: number) => Number(view.getBigUint64(at, true))
    expect([4, 24, 32, 40, 48].map(wide)).toEqual([44, 65_535, 65_535, size, place])
    expect(wide(56 + 8)).toBe(record)
  })

  it('has the date and time of its making', async () => {
    const zip = new ZipWriter(new Date(2025, 2, 1, 12, 30, 10))
    const [header] = zip.stored('a', new Uint8Array(1))
    const view = new DataView(header!.buffer)
    // MS-DOS format: hours 5 bits, minutes 6, seconds/2 5; year from 1980 7, month 4, day 5.
    expect(view.getUint16(10, true)).toBe((12 << 11) | (30 << 5) | 5)
    expect(view.getUint16(12, true)).toBe((45 << 9) | (3 << 5) | 1)
  })
})
