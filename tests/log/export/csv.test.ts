import fc from 'fast-check'
import { afterEach, describe, expect, it } from 'vitest'
import { CSV_HEADERS, textCell } from '../../../src/log/export/csv.ts'
import type { Log } from '../../../src/log/schema/types.ts'
import { closeTestLogs, draft, openTestLog, temperatureResult, textOf } from '../opening.ts'

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
      simulated: 'no',
      'made-up example': 'no',
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

  it('has one column for each value, in an order that sheets made of it can rely on', async () => {
    const log = await openTestLog()
    const { id } = await log.add(
      draft({
        method: 'by hand',
        simulated: true,
        result: temperatureResult(1173.154, 9.876),
        takenAt: { iso: '2025-03-01T11:00:00+01:00', zone: 'Europe/Vienna' },
        object: 'Bar, long',
        material: 'steel-oxidised',
        tags: ['one', 'two'],
        series: 'First',
        notes: 'said "hot"',
        place: 'Bench; left',
        cover: 'glass',
        supply: { volts: 12.3456789, amperes: 0.5, watts: 6.25 },
        roomTemperatureK: 293.15,
        chromaticity: {
          x: 0.591234,
          y: 0.381234,
          u: 0.371234,
          v: 0.531236,
          cctK: 1500.126,
          duv: 0.012345,
        },
      }),
    )
    await log.edit(id, { notes: 'said "hotter"' })
    const [row] = await csvOf(log)
    expect(Object.entries(row!)).toEqual(
      Object.entries({
        id,
        'taken at (ISO 8601)': '2025-03-01T11:00:00+01:00',
        'time zone': 'Europe/Vienna',
        method: 'by hand',
        simulated: 'yes',
        'made-up example': 'no',
        object: 'Bar, long',
        material: 'steel-oxidised',
        'temperature (°C)': '900',
        'temperature (K)': '1173.15',
        'standard uncertainty (K)': '9.88',
        'expanded uncertainty 95 % (K)': '19.75',
        'interval 95 % from (K)': '1153.4',
        'interval 95 % to (K)': '1192.91',
        'upper bound 95 % (K)': '',
        'no number because': '',
        'method version': '1',
        recomputations: '0',
        edits: '1',
        tags: 'one, two',
        series: 'First',
        notes: 'said "hotter"',
        place: 'Bench; left',
        'room temperature (°C)': '20',
        'in front': 'glass',
        'supply (V)': '12.345679',
        'supply (A)': '0.5',
        'supply (W)': '6.25',
        'CIE 1931 x': '0.59123',
        'CIE 1931 y': '0.38123',
        "CIE 1976 u'": '0.37123',
        "CIE 1976 v'": '0.53124',
        'correlated colour temperature (K)': '1500.13',
        Duv: '0.01235',
      }),
    )
  })

  it('leaves cells empty of which nothing is known, and says of examples that they are made up', async () => {
    const log = await openTestLog()
    await log.add(draft())
    await log.addDemo()
    const rows = await csvOf(log)
    const mine = rows.find((row) => row['made-up example'] === 'no')!
    for (const name of [
      'series',
      'room temperature (°C)',
      'supply (V)',
      'supply (A)',
      'supply (W)',
      'CIE 1931 x',
      'CIE 1931 y',
      "CIE 1976 u'",
      "CIE 1976 v'",
      'correlated colour temperature (K)',
      'Duv',
    ])
      expect(mine[name], name).toBe('')
    expect(rows.filter((row) => row['made-up example'] === 'yes')).toHaveLength(rows.length - 1)
  })

  it('quotes what would end a cell, or lose its blanks, and nothing else', () => {
    for (const [text, cell] of [
      ['', ''],
      ['Kiln shelf (left) 1.5 °C', 'Kiln shelf (left) 1.5 °C'],
      ["dörte's", "dörte's"],
      ['a,b', '"a,b"'],
      ['a;b', '"a;b"'],
      ['a\tb', '"a\tb"'],
      ['a\nb', '"a\nb"'],
      ['a\rb', '"a\rb"'],
      ['say "hot"', '"say ""hot"""'],
      [' a', '" a"'],
      ['a ', '"a "'],
      ['a\u0000b\u0000', '"a b "'],
      ['a?', 'a?'],
      ['?=1', '?=1'],
      ['a; =1;  +2', '"a; \'=1;  \'+2"'],
      ['  =1', "'  =1"],
    ] as const)
      expect(textCell(text), text).toBe(cell)
  })
})
