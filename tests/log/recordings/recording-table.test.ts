import { describe, expect, test } from 'vitest'
import { RefusedFile } from '../../../src/log/import/refused.ts'
import { emptyColumns, FLAGS, type Flag } from '../../../src/log/recordings/columns.ts'
import {
  columnsOfCsv,
  recordingCsv,
  recordingFromFiles,
  recordingMetadata,
} from '../../../src/log/recordings/recording-csv.ts'
import type { RecordingHead } from '../../../src/log/recordings/recording-schema.ts'

const HEADER =
  'time (s),temperature (K),standard uncertainty by noise (K),standard uncertainty in common (K),ln(G/R),ln(R),remark'
/** A file as it lies with people. */
const TABLE = [
  HEADER,
  '0.000,1200.250,0.5000,12.125,-2.015625,-0.500000,',
  '0.125,,,,,,lost; exposure changed',
  '60.000,1199.500,0.2500,12.000,-2.000000,-0.250000,flicker',
  '',
].join('\r\n')

function readings() {
  const columns = emptyColumns(3)
  columns.ms.set([0, 125, 60_000])
  columns.temperatureK.set([1200.25, Number.NaN, 1199.5])
  columns.noiseK.set([0.5, Number.NaN, 0.25])
  columns.commonK.set([12.125, Number.NaN, 12])
  columns.lnRatio.set([-2.015625, Number.NaN, -2])
  columns.lnRed.set([-0.5, Number.NaN, -0.25])
  columns.flags.set([0, FLAGS.lost | FLAGS['exposure changed'], FLAGS.flicker])
  return columns
}

const HEAD: RecordingHead = {
  version: 1,
  id: '00000000-0000-4000-8000-000000000001',
  savedAt: '2025-03-01T10:00:00Z',
  source: 'live',
  simulated: false,
  startedAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: 'Europe/Vienna' },
  durationSeconds: 60,
  readings: 3,
  lowestK: 1199.5,
  highestK: 1200.25,
  commonK: 12.125,
  spark: [1200.3, null, 1199.5],
  cover: '',
  cameraId: 'a camera',
  methodVersion: '7',
  ended: 'by hand',
  object: '',
  material: '',
  notes: '',
  marks: [],
}

/** Why it is refused: the place, or the code where that says all. */
function refusalOf(work: () => unknown): string {
  try {
    work()
  } catch (error) {
    if (!(error instanceof RefusedFile)) throw error
    const { refusal } = error
    return 'where' in refusal ? `${refusal.code}: ${refusal.where}` : refusal.code
  }
  return 'not refused'
}

describe('a table of readings', () => {
  test('is the same text for the same readings, and the other way round', () => {
    expect(recordingCsv({ columns: readings() })).toBe(TABLE)
    expect(columnsOfCsv(TABLE)).toEqual(readings())
  })

  test('keeps each remark by itself', () => {
    for (const [i, name] of (Object.keys(FLAGS) as Flag[]).entries()) {
      const columns = emptyColumns(1)
      columns.temperatureK[0] = 1200
      columns.flags[0] = 2 ** i
      const text = recordingCsv({ columns })
      expect(text.trimEnd().split(',').at(-1)).toBe(name)
      expect(columnsOfCsv(text).flags).toEqual(columns.flags)
    }
  })

  test('is read with a byte order mark, other line ends, blank lines behind, and nothing else for them', () => {
    const lines = TABLE.trimEnd().split('\r\n').join('\n')
    for (const text of [`\uFEFF${lines}`, lines, `${lines}\n\n\n`, `${TABLE}\r\n`])
      expect(columnsOfCsv(text)).toEqual(readings())
    expect(refusalOf(() => columnsOfCsv(`\n${lines}`))).toMatch(/first line/)
  })

  test('is read by its titles: others between are left out, those that are missing are gaps', () => {
    const columns = columnsOfCsv(
      'time (s),room (K),ln(G/R),temperature (K)\n0, 293 ,-2, 1200 \n1.2346,x,,1201\n3,,-1\n',
    )
    const gap = Number.NaN
    expect(columns).toEqual({
      ms: Uint32Array.of(0, 1235, 3000),
      temperatureK: Float32Array.of(1200, 1201, gap),
      noiseK: Float32Array.of(gap, gap, gap),
      commonK: Float32Array.of(gap, gap, gap),
      lnRatio: Float32Array.of(-2, gap, -1),
      lnRed: Float32Array.of(gap, gap, gap),
      flags: Uint8Array.of(0, 0, 0),
    })
  })

  test('takes remarks with blanks around and leaves out those it does not know', () => {
    const text = 'time (s),temperature (K),remark\n0,1200, lost ;touched;clipped\n1,1201\n'
    expect([...columnsOfCsv(text).flags]).toEqual([FLAGS.lost + FLAGS.clipped, 0])
  })

  test('is refused with its line where a cell is no number, or outside of its range', () => {
    const why = (cell: string, title = 'temperature (K)') =>
      refusalOf(() => columnsOfCsv(`time (s),temperature (K),${title}\n1,1200,${cell}\n`))
    const temperature = (cell: string) =>
      refusalOf(() => columnsOfCsv(`time (s),temperature (K)\n1,${cell}\n`))
    expect(temperature('50')).toBe('not refused')
    expect(temperature('49.9')).toBe('wrong content: line 2: temperatureK 49.9')
    expect(temperature('hot')).toBe('wrong content: line 2: “hot”')
    expect(temperature('Infinity')).toBe('wrong content: line 2: “Infinity”')
    expect(temperature('-1')).toBe('wrong content: line 2: temperatureK -1')
    for (const [title, of] of [
      ['standard uncertainty by noise (K)', 'noiseK'],
      ['standard uncertainty in common (K)', 'commonK'],
    ] as const) {
      expect(why('0', title)).toBe('not refused')
      expect(why('-1', title)).toBe(`wrong content: line 2: ${of} -1`)
    }
    for (const [title, of] of [
      ['ln(G/R)', 'lnRatio'],
      ['ln(R)', 'lnRed'],
    ] as const) {
      expect(why('-100', title)).toBe('not refused')
      expect(why('-101', title)).toBe(`wrong content: line 2: ${of} -101`)
    }
  })

  test('is refused where its times do not rise from zero on', () => {
    const times = (...seconds: string[]) =>
      refusalOf(() => columnsOfCsv(`time (s),temperature (K)\n${seconds.join(',\n')},\n`))
    expect(times('0', '0.001', '1000000')).toBe('not refused')
    const rise = 'times must rise, to 1000000 s at most'
    expect(times('-1')).toBe(`wrong content: line 2: ${rise}`)
    expect(times('soon')).toBe(`wrong content: line 2: ${rise}`)
    expect(times('0', '0.0004')).toBe(`wrong content: line 3: ${rise}`)
    expect(times('0', '1', '0.5')).toBe(`wrong content: line 4: ${rise}`)
    expect(times('0', '1000000.001')).toBe(`wrong content: line 3: ${rise}`)
  })

  test('is refused without its first two titles', () => {
    const first = 'wrong content: the first line must begin with: time (s), temperature (K)'
    expect(refusalOf(() => columnsOfCsv('time (s),ln(G/R)\n1,-2\n'))).toBe(first)
    expect(refusalOf(() => columnsOfCsv('temperature (K),time (s)\n1200,1\n'))).toBe(first)
    expect(refusalOf(() => columnsOfCsv(''))).toBe(first)
    expect(refusalOf(() => columnsOfCsv(HEADER))).toBe('wrong content: 0 readings')
  })
})

describe('what a table means', () => {
  const stored = { head: HEAD, columns: readings(), details: { looks: [1] } }
  const metadata = (head = HEAD) => recordingMetadata({ ...stored, head }, 'bar.csv') as never
  const text = (value: unknown) => JSON.stringify(value)

  test('is said as the W3C would have it: dialect, units, datatypes, method', () => {
    // Metadata Vocabulary for Tabular Data, 5.9 (dialect), 5.11.2 (number, string); units by schema.org.
    expect(metadata()).toMatchObject({
      '@context': ['http://www.w3.org/ns/csvw', { '@language': 'en' }],
      'dc:title': 'Heat over time',
      'dc:created': '2025-03-01T11:00:00.000+01:00',
      'dc:description': expect.stringMatching(
        /method version 7\..*standard uncertainties \(k = 1\)/,
      ),
      dialect: { header: true, delimiter: ',', encoding: 'utf-8' },
    })
    const { columns } = (metadata() as { tableSchema: { columns: Record<string, string>[] } })
      .tableSchema
    expect(columns.map((one) => [one.name, one.datatype, one['schema:unitText']])).toEqual([
      ['time', 'number', 's'],
      ['temperature', 'number', 'K'],
      ['noise', 'number', 'K'],
      ['common', 'number', 'K'],
      ['ln_ratio', 'number', '1'],
      ['ln_red', 'number', '1'],
      ['remark', 'string', undefined],
    ])
    for (const one of columns) expect(one['dc:description']).not.toBe('')
    expect('schema:unitText' in columns.at(-1)!).toBe(false)
    expect(metadata({ ...HEAD, object: 'Bar' })).toMatchObject({ 'dc:title': 'Bar' })
  })

  test('brings the recording back, and what lists show of it by the readings themselves', () => {
    const lied = { ...HEAD, readings: 9, highestK: 5000, durationSeconds: 1, spark: [] }
    expect(recordingFromFiles(TABLE, text(metadata(lied)))).toEqual(stored)
  })

  test('is refused where it is no JSON, has no notes or two, or holds no recording', () => {
    const why = (meta: string) => refusalOf(() => recordingFromFiles(TABLE, meta))
    const note = { recording: HEAD, details: null }
    expect(why(text({ notes: [note] }))).toBe('not refused')
    expect(why('{')).toBe('broken: metadata')
    for (const wrong of [{}, { notes: [] }, { notes: [note, note] }, { notes: [{}] }, null])
      expect(why(text(wrong))).toBe('wrong content: metadata without notes')
    const forbidden = text({ notes: [note] }).replace('null}', '{"constructor":1}}')
    expect(why(forbidden)).toBe('wrong content: details: forbidden name')
    const other = { ...HEAD, source: 'elsewhere' }
    expect(why(text({ notes: [{ ...note, recording: other }] }))).toBe(
      'wrong content: metadata: recording',
    )
  })
})
