import { execFileSync } from 'node:child_process'
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import fc from 'fast-check'
import { strFromU8, unzipSync } from 'fflate'
import { decode } from 'tiff'
import { afterEach, describe, expect, it } from 'vitest'
import { CSV_HEADERS, textCell } from '../../src/log/export/csv.ts'
import { ZipWriter } from '../../src/log/export/zip-writer.ts'
import { entryChunks, zipDirectory } from '../../src/log/import/zip-reader.ts'
import type { Json, Log } from '../../src/log/schema/types.ts'
import { MAPS_TO_EXPORT } from '../../src/session/log/maps-to-export.ts'
import { packedMap } from '../../src/session/log/stored-map.ts'
import { madeMap } from '../session/map/made-map.ts'
import {
  bytesOf,
  closeTestLogs,
  draft,
  jpegBlob,
  openTestLog,
  temperatureResult,
  textOf,
} from './opening.ts'

afterEach(closeTestLogs)

/**
 * A strict reader after the grammar of RFC 4180, section 2: records end with CRLF, fields are bare
 * (no quote, comma, CR, LF) or quoted with doubled quotes. Anything else throws.
 */
function parseCsv(text: string): string[][] {
  const records: string[][] = []
  let at = 0
  while (at < text.length) {
    const fields: string[] = []
    for (;;) {
      if (text[at] === '"') {
        const quoted = /"((?:[^"]|"")*)"/y
        quoted.lastIndex = at
        const found = quoted.exec(text)
        if (found === null) throw new Error(`unclosed quote at ${at}`)
        fields.push(found[1]!.replaceAll('""', '"'))
        at = quoted.lastIndex
      } else {
        const bare = /[^",\r\n]*/y
        bare.lastIndex = at
        fields.push(bare.exec(text)![0])
        at = bare.lastIndex
      }
      if (text[at] !== ',') break
      at++
    }
    if (text.slice(at, at + 2) !== '\r\n') throw new Error(`no line end at ${at}`)
    at += 2
    records.push(fields)
  }
  return records
}

async function csvOf(log: Log): Promise<Record<string, string>[]> {
  const text = await textOf(log.export('csv'))
  expect(text[0]).toBe('\uFEFF')
  const [headers, ...records] = parseCsv(text.slice(1))
  expect(headers).toEqual(CSV_HEADERS)
  return records.map((fields) => {
    expect(fields).toHaveLength(CSV_HEADERS.length)
    return Object.fromEntries(fields.map((field, i) => [CSV_HEADERS[i]!, field]))
  })
}

describe('the table', () => {
  it('has numbers as numbers, units in the header and times in ISO 8601', async () => {
    const log = await openTestLog()
    await log.add(
      draft({
        result: temperatureResult(1173.15, 9.876),
        takenAt: { iso: '2025-03-01T11:00:00+01:00', zone: 'Europe/Vienna' },
        supply: { volts: 230, amperes: null, watts: 0.000012 },
        roomTemperatureK: 268.15,
        chromaticity: { x: 0.59991, y: 0.38, u: 0.37, v: 0.53, cctK: null, duv: -0.00001 },
      }),
    )
    const [row] = await csvOf(log)
    expect(row).toMatchObject({
      'taken at (ISO 8601)': '2025-03-01T11:00:00+01:00',
      'time zone': 'Europe/Vienna',
      'temperature (°C)': '900',
      'temperature (K)': '1173.15',
      'standard uncertainty (K)': '9.88',
      'expanded uncertainty 95 % (K)': '19.75',
      'upper bound 95 % (K)': '',
      'supply (V)': '230',
      'supply (A)': '',
      'supply (W)': '0.000012',
      'room temperature (°C)': '-5',
      'CIE 1931 x': '0.59991',
      Duv: '-0.00001',
    })
  })

  it('tells bounds and missing numbers apart from temperatures', async () => {
    const log = await openTestLog()
    await log.add(draft({ result: { kind: 'upper bound', temperatureK: 880, methodVersion: '1' } }))
    await log.add(draft({ result: { kind: 'none', reason: 'clipped', methodVersion: '1' } }))
    const rows = await csvOf(log)
    expect(rows.map((row) => [row['temperature (K)'], row['upper bound 95 % (K)']])).toEqual([
      ['', '880'],
      ['', ''],
    ])
    expect(rows[1]).toMatchObject({ 'no number because': 'clipped' })
  })

  it('shows the latest result of a recomputed reading', async () => {
    const log = await openTestLog()
    const { id } = await log.add(draft())
    await log.recompute(id, { result: temperatureResult(1200), reason: 'newer' })
    expect((await csvOf(log))[0]).toMatchObject({ 'temperature (K)': '1200', recomputations: '1' })
  })

  it('is in order of time, and only of the readings named when they are named', async () => {
    const log = await openTestLog()
    const add = (iso: string) => log.add(draft({ object: iso, takenAt: { iso, zone: '' } }))
    const late = await add('2025-03-03T00:00:00Z')
    await add('2025-03-01T00:00:00Z')
    await add('2025-03-02T00:00:00Z')
    expect((await csvOf(log)).map((row) => row.object?.slice(8, 10))).toEqual(['01', '02', '03'])
    const named = await textOf(log.export('csv', { ids: [late.id] }))
    expect(parseCsv(named.slice(1))).toHaveLength(2)
  })

  it('brings any text through the grammar of RFC 4180, changed only where it is defused', () => {
    fc.assert(
      fc.property(fc.array(fc.string({ unit: 'grapheme' }), { minLength: 1 }), (texts) => {
        const [record] = parseCsv(`${texts.map(textCell).join(',')}\r\n`)
        record!.forEach((field, i) => {
          expect(field.replaceAll("'", '')).toBe(
            texts[i]!.replaceAll("'", '').replaceAll('\u0000', ' '),
          )
        })
      }),
    )
  })

  it('leaves no text that a spreadsheet takes for a formula', () => {
    // Beginnings named by the OWASP page on CSV injection.
    for (const text of [
      '=1+1',
      '+1',
      '-1',
      '@SUM(A1)',
      '\t=1',
      '\r=1',
      '\n=1',
      ' =1',
      '＝1',
      '＠a',
    ]) {
      expect(parseCsv(`${textCell(text)}\r\n`)[0]![0]).toMatch(/^\s*'/)
    }
    const start = fc.constantFrom('=', '+', '-', '@', '＝', '＋', '－', '＠')
    const separator = fc.constantFrom('', ';', '\t', '\n', '\r\n', '; ', 'a;', 'a,b;')
    fc.assert(
      fc.property(separator, start, fc.string(), (before, sign, rest) => {
        const cell = textCell(before + sign + rest)
        // As a program sees it that splits at semicolons, tabs and lines, whatever is quoted.
        for (const piece of cell.split(/[;\t\r\n]/)) {
          expect(piece.replace(/^"/, '')).not.toMatch(/^\s*[=+\-@＝＋－＠]/)
        }
      }),
    )
  })

  it('defuses texts only: a negative number stays one', async () => {
    const log = await openTestLog()
    await log.add(draft({ object: '-12 bar', roomTemperatureK: 263.15 }))
    expect((await csvOf(log))[0]).toMatchObject({
      object: "'-12 bar",
      'room temperature (°C)': '-10',
    })
  })
})

describe('the JSON file', () => {
  it('names its schema and version and holds readings and kit', async () => {
    const log = await openTestLog()
    const reading = await log.add(draft({ inputs: { a: [1, 2] } }))
    const item = await log.kit.add({ kind: 'lamp', name: 'Lamp', data: { volts: 12 } })
    const removed = await log.kit.add({ kind: 'lamp', name: 'Gone', data: null })
    await log.kit.remove([removed.id])
    expect(JSON.parse(await textOf(log.export('json')))).toEqual({
      schema: 'glowbook-log',
      version: 2,
      exportedAt: expect.stringMatching(/^2025-03-01T10:/),
      readings: [reading],
      kit: [item],
    })
    expect(JSON.parse(await textOf(log.export('kit')))).toMatchObject({ readings: [], kit: [item] })
    expect(JSON.parse(await textOf(log.export('json', { ids: [reading.id] })))).toMatchObject({
      readings: [reading],
      kit: [],
    })
  })

  it('is whole when there are many readings, and none', async () => {
    const log = await openTestLog()
    expect(JSON.parse(await textOf(log.export('json')))).toMatchObject({ readings: [], kit: [] })
    for (let i = 0; i < 230; i++) await log.add(draft({ object: `${i}` }))
    const { readings } = JSON.parse(await textOf(log.export('json'))) as {
      readings: { object: string }[]
    }
    expect(readings.map((r) => r.object)).toEqual(Array.from({ length: 230 }, (_, i) => `${i}`))
  })

  it('tells how far it is and stops when asked', async () => {
    const log = await openTestLog()
    for (let i = 0; i < 250; i++) await log.add(draft())
    const stop = new AbortController()
    const seen: [number, number][] = []
    const taking = textOf(
      log.export('json', {
        signal: stop.signal,
        progress: (done, total) => {
          seen.push([done, total])
          if (done >= 200) stop.abort(new Error('enough'))
        },
      }),
    )
    await expect(taking).rejects.toThrow('enough')
    expect(seen[0]).toEqual([0, 250])
    expect(seen.at(-1)).toEqual([200, 250])
  })
})

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
      for (let i = 0; i < 66_000; i++) yield* zip.stored(`${i}`, content)
      yield* zip.end()
    }
    const file = new Blob([await bytesOf(chunks())])
    const entries = await zipDirectory(file)
    expect(entries).toHaveLength(66_000)
    expect(entries.at(-1)).toMatchObject({ name: '65999', size: 1, method: 0 })
    expect(await textOf(entryChunks(file, entries[65_998]!, 10))).toBe('x')
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
