/**
 * A recording as a table and what the table means: CSV (RFC 4180) with a metadata file after "Metadata
 * Vocabulary for Tabular Data" (W3C Recommendation, 17 December 2015), in which units, uncertainties
 * and method stand, and under "notes" everything needed to read it back.
 */
import * as v from 'valibot'
import { RefusedFile, wrongContent } from '../import/refused.ts'
import { type Json, jsonProblem } from '../schema/json-value.ts'
import { lnRatio, temperatureK, uncertaintyK } from '../schema/quantities.ts'
import { emptyColumns, FLAGS, type Flag, factsOfColumns, type RecordingColumns } from './columns.ts'
import {
  LAST_SECOND,
  MOST_READINGS,
  type RecordingHead,
  recordingHead,
} from './recording-schema.ts'
import type { StoredRecording } from './types.ts'

interface Column {
  readonly name: string
  readonly title: string
  readonly about: string
  readonly unit: string | null
  readonly decimals: number
  readonly of: 'temperatureK' | 'noiseK' | 'commonK' | 'lnRatio' | 'lnRed'
}

const VALUES: readonly Column[] = [
  {
    name: 'temperature',
    title: 'temperature (K)',
    about: 'Temperature; empty in a gap',
    unit: 'K',
    decimals: 3,
    of: 'temperatureK',
  },
  {
    name: 'noise',
    title: 'standard uncertainty by noise (K)',
    about: 'Standard uncertainty of the single reading, independent from one to the next',
    unit: 'K',
    decimals: 4,
    of: 'noiseK',
  },
  {
    name: 'common',
    title: 'standard uncertainty in common (K)',
    about: 'Standard uncertainty that shifts the whole curve: camera, tone curve, surface',
    unit: 'K',
    decimals: 3,
    of: 'commonK',
  },
  {
    name: 'ln_ratio',
    title: 'ln(G/R)',
    about: 'Natural logarithm of green over red, linear Display P3',
    unit: '1',
    decimals: 6,
    of: 'lnRatio',
  },
  {
    name: 'ln_red',
    title: 'ln(R)',
    about: 'Natural logarithm of the linear red level of the picture',
    unit: '1',
    decimals: 6,
    of: 'lnRed',
  },
]
const TIME = 'time (s)'
const REMARK = 'remark'
const HEADER = [TIME, ...VALUES.map(({ title }) => title), REMARK]
const FLAG_NAMES = Object.keys(FLAGS) as Flag[]
const BETWEEN = '; '

export function recordingCsv({ columns }: Pick<StoredRecording, 'columns'>): string {
  const lines = [HEADER.join(',')]
  for (let i = 0; i < columns.ms.length; i++) {
    const cells = VALUES.map(({ of, decimals }) => {
      const value = columns[of][i]!
      return Number.isFinite(value) ? value.toFixed(decimals) : ''
    })
    const flags = columns.flags[i]!
    const remarks = FLAG_NAMES.filter((name) => flags & FLAGS[name]).join(BETWEEN)
    lines.push([(columns.ms[i]! / 1000).toFixed(3), ...cells, remarks].join(','))
  }
  return `${lines.join('\r\n')}\r\n`
}

/** @param url name of the CSV file beside it */
export function recordingMetadata({ head, details }: StoredRecording, url: string): Json {
  const column = (name: string, titles: string, about: string, unit: string | null) => ({
    name,
    titles,
    datatype: unit === null ? 'string' : 'number',
    'dc:description': about,
    ...(unit === null ? {} : { 'schema:unitText': unit }),
  })
  return {
    '@context': ['http://www.w3.org/ns/csvw', { '@language': 'en' }],
    url,
    'dc:title': head.object || 'Heat over time',
    'dc:created': head.startedAt.iso,
    'dc:description': `Temperature over time from the colour of a glow, method version ${head.methodVersion}. Uncertainties are standard uncertainties (k = 1).`,
    dialect: { header: true, delimiter: ',', encoding: 'utf-8' },
    tableSchema: {
      columns: [
        column('time', TIME, 'Since the beginning', 's'),
        ...VALUES.map(({ name, title, about, unit }) => column(name, title, about, unit)),
        column('remark', REMARK, 'Why there is no figure, or what happened', null),
      ],
    },
    notes: [{ recording: head, details }],
  } as unknown as Json
}

export const COLUMN_RANGES = {
  temperatureK,
  noiseK: uncertaintyK,
  commonK: uncertaintyK,
  lnRatio,
  lnRed: lnRatio,
}

/** The readings of a table as {@link recordingCsv} writes it. @throws RefusedFile */
export function columnsOfCsv(text: string): RecordingColumns {
  const lines = text.replace(/^\uFEFF/, '').split(/\r?\n/)
  while (lines.at(-1) === '') lines.pop()
  const titles = (lines[0] ?? '').split(',').map((title) => title.trim())
  if (titles[0] !== TIME || !titles.includes(VALUES[0]!.title)) {
    throw wrongContent(`the first line must begin with: ${HEADER.slice(0, 2).join(', ')}`)
  }
  const count = lines.length - 1
  if (count < 1 || count > MOST_READINGS) throw wrongContent(`${count} readings`)
  const columns = emptyColumns(count)
  // A title that is missing has place -1, where no line has a cell.
  const places = VALUES.map(({ title, of }) => [of, titles.indexOf(title)] as const)
  const remark = titles.indexOf(REMARK)
  let last = -1
  for (let i = 0; i < count; i++) {
    const cells = lines[i + 1]!.split(',')
    const where = `line ${i + 2}`
    const seconds = Number(cells[0])
    const ms = Math.round(1000 * seconds)
    if (!(ms > last && ms <= 1000 * LAST_SECOND)) {
      throw wrongContent(`${where}: times must rise, to ${LAST_SECOND} s at most`)
    }
    last = ms
    columns.ms[i] = ms
    for (const [of, place] of places) {
      const cell = (cells[place] ?? '').trim()
      const value = cell === '' ? Number.NaN : Number(cell)
      if (cell !== '' && !Number.isFinite(value)) throw wrongContent(`${where}: “${cell}”`)
      if (cell !== '' && !v.is(COLUMN_RANGES[of], value))
        throw wrongContent(`${where}: ${of} ${cell}`)
      columns[of][i] = value
    }
    const remarks = (cells[remark] ?? '').split(';').map((name) => name.trim())
    for (const name of FLAG_NAMES) if (remarks.includes(name)) columns.flags[i]! |= FLAGS[name]
  }
  return columns
}

export const metadataShape = v.looseObject({
  notes: v.pipe(v.array(v.looseObject({ recording: v.any(), details: v.any() })), v.length(1)),
})

/**
 * A recording from its two files; what lists show is computed again from the readings.
 *
 * @throws RefusedFile
 */
export function recordingFromFiles(csv: string, metadata: string): StoredRecording {
  const columns = columnsOfCsv(csv)
  let value: unknown
  try {
    value = JSON.parse(metadata)
  } catch (error) {
    throw new RefusedFile({ code: 'broken', where: 'metadata' }, { cause: error })
  }
  const found = v.safeParse(metadataShape, value)
  if (!found.success) throw wrongContent('metadata without notes')
  const { recording, details } = found.output.notes[0]!
  const problem = jsonProblem(details)
  if (problem !== null) throw wrongContent(`details: ${problem}`)
  const head = v.safeParse(recordingHead, { ...recording, ...factsOfColumns(columns) })
  if (!head.success) throw wrongContent('metadata: recording')
  return { head: head.output satisfies RecordingHead, columns, details: details as Json }
}
