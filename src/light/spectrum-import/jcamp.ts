import type { Spectrum } from './spectrum.ts'
import { axisToNm, isPossibleNm, unitFromHeading } from './unit.ts'

/**
 * JCAMP-DX, the open format for spectra of the IUPAC: labelled records `##LABEL= value`, data as a
 * table of pairs or as lines that begin with an x and go on in equal steps, plain or compressed.
 * Source: McDonald & Wilks 1988 (Appl. Spectrosc. 42, 151), JCAMP-DX 4.24.
 */

export type JcampResult =
  | { readonly ok: true; readonly spectra: readonly Spectrum[]; readonly unit: string }
  | {
      readonly ok: false
      readonly code:
        | 'raman shift'
        | 'wavelength unit unknown'
        | 'no numbers'
        | 'wavelengths out of range'
        | 'too large'
      readonly line: number
    }

export const isJcamp = (text: string) => /^\s*(?:\$\$[^\n]*\n\s*)*##\s*TITLE\s*=/i.test(text)

interface Block {
  readonly labels: Map<string, string>
  /** Lines of the data, with the kind of table. */
  data: { readonly form: string; readonly lines: string[]; readonly line: number } | null
}

/** Labels differ by blanks, dashes, slashes, underlines and case only (4.24, 5.3). */
const plainLabel = (label: string) => label.toUpperCase().replace(/[\s\-/_]/g, '')

/** Values of a whole file: a repetition of a few letters may stand for millions. */
const MOST_ORDINATES = 1_000_000

export function readJcamp(text: string): JcampResult {
  const spectra: Spectrum[] = []
  let room = MOST_ORDINATES
  let unit = ''
  for (const block of blocksOf(text)) {
    if (block.data === null) continue
    const { labels, data } = block
    const written = labels.get('XUNITS') ?? ''
    const named = unitFromHeading(written)
    if (named === 'raman shift' || /raman/i.test(labels.get('DATATYPE') ?? '')) {
      return { ok: false, code: 'raman shift', line: data.line }
    }
    if (named === null) return { ok: false, code: 'wavelength unit unknown', line: data.line }
    const points = /\(XY\.\.XY\)/i.test(data.form)
      ? pairs(data.lines, labels)
      : steps(data.lines, labels, room)
    if (points === null) return { ok: false, code: 'too large', line: data.line }
    room -= points.length
    const samples = points
      .map(([x, y]) => [axisToNm(x, named), y] as const)
      .filter(([nm, y]) => isPossibleNm(nm) && Number.isFinite(y))
      .sort((a, b) => a[0] - b[0])
      .filter(([nm], i, all) => i === 0 || nm > all[i - 1]![0])
    if (points.length > 0 && samples.length < points.length / 2) {
      return { ok: false, code: 'wavelengths out of range', line: data.line }
    }
    if (samples.length === 0) continue
    unit = written.trim()
    const quantity = labels.get('YUNITS')?.trim() ?? ''
    const title = labels.get('TITLE')?.trim() ?? ''
    spectra.push({
      name: [title, quantity && `(${quantity})`].filter(Boolean).join(' ').slice(0, 80) || null,
      wavelengthNm: samples.map(([nm]) => Math.round(nm * 1e6) / 1e6),
      signal: samples.map(([, y]) => y),
    })
  }
  return spectra.length > 0
    ? { ok: true, spectra, unit }
    : { ok: false, code: 'no numbers', line: 1 }
}

function blocksOf(text: string): Block[] {
  const blocks: Block[] = []
  let block: Block | null = null
  let taking = false
  text.split(/\r\n|\n|\r/).forEach((raw, i) => {
    const line = raw.replace(/\$\$.*$/, '')
    const record = /^\s*##([^=]*)=(.*)$/.exec(line)
    if (record === null) {
      if (taking && line.trim() !== '') block?.data?.lines.push(line)
      return
    }
    const label = plainLabel(record[1]!)
    const value = record[2]!
    taking = false
    if (label === 'TITLE' || block === null) {
      block = { labels: new Map(), data: null }
      blocks.push(block)
    }
    if (['XYDATA', 'XYPOINTS', 'PEAKTABLE'].includes(label)) {
      block.data = { form: value, lines: [], line: i + 1 }
      taking = true
    } else if (label !== '') block.labels.set(label, value)
  })
  return blocks
}

const numberOf = (labels: Map<string, string>, label: string) => {
  const value = Number.parseFloat(labels.get(label) ?? '')
  return Number.isFinite(value) ? value : null
}

/** Pairs "x, y" parted by semicolons, blanks or lines. */
function pairs(lines: readonly string[], labels: Map<string, string>): [number, number][] {
  const xFactor = numberOf(labels, 'XFACTOR') ?? 1
  const yFactor = numberOf(labels, 'YFACTOR') ?? 1
  const numbers = lines
    .join(' ')
    .split(/[\s,;]+/)
    .filter((cell) => cell !== '')
    .map(Number)
  const points: [number, number][] = []
  for (let i = 0; i + 1 < numbers.length; i += 2) {
    points.push([numbers[i]! * xFactor, numbers[i + 1]! * yFactor])
  }
  return points
}

/** Lines of ordinates in equal steps of x (4.24, 5.8: X++(Y..Y)); null for more than there is room for. */
function steps(
  lines: readonly string[],
  labels: Map<string, string>,
  room: number,
): [number, number][] | null {
  const yFactor = numberOf(labels, 'YFACTOR') ?? 1
  const xFactor = numberOf(labels, 'XFACTOR') ?? 1
  const ordinates: number[] = []
  let firstX: number | null = null
  let lastX = 0
  let checked: number | null = null
  for (const line of lines) {
    const left = room - ordinates.length
    const { x, values, endsInDifference } = decodeLine(line, left)
    if (x === null || values.length === 0) continue
    firstX ??= x * xFactor
    lastX = x * xFactor
    // After a line of differences the next one repeats its last ordinate, as a check.
    if (checked !== null) values.shift()
    if (values.length > left) return null
    for (const value of values) ordinates.push(value)
    checked = endsInDifference ? ordinates[ordinates.length - 1]! : null
  }
  const count = ordinates.length
  const from = numberOf(labels, 'FIRSTX') ?? firstX ?? 0
  const to = numberOf(labels, 'LASTX')
  const step =
    to !== null && count > 1
      ? (to - from) / (count - 1)
      : (numberOf(labels, 'DELTAX') ?? (count > 1 ? (lastX - from) / (count - 1) : 1))
  return ordinates.map((y, i) => [from + i * step, y * yFactor])
}

const SQUEEZED = '@ABCDEFGHIabcdefghi'
const DIFFERENCE = '%JKLMNOPQRjklmnopqr'
const DUPLICATE = 'STUVWXYZs'

/** First digit and sign of a compressed number: @ 0, A..I 1..9, a..i -1..-9 (4.24, table VII). */
const digitOf = (symbols: string, letter: string) => {
  const at = symbols.indexOf(letter)
  return at <= 9 ? `${at}` : `-${at - 9}`
}

/** One line in plain, packed, squeezed or difference form; of repetitions hardly more than the room. */
function decodeLine(
  line: string,
  room: number,
): {
  x: number | null
  values: number[]
  endsInDifference: boolean
} {
  const tokens = line.match(/\?|[@%A-Za-z]?[+-]?\d*\.?\d*(?:[eE][+-]?\d+(?=[\s,;+-]|$))?/g) ?? []
  const values: number[] = []
  let x: number | null = null
  let previous = 0
  let difference: number | null = null
  for (const token of tokens) {
    if (token === '' || token === '+' || token === '-') continue
    const letter = token[0]!
    const rest = token.slice(1)
    if (x === null) {
      x = Number.parseFloat(token)
      if (!Number.isFinite(x)) return { x: null, values: [], endsInDifference: false }
    } else if (letter === '?') {
      // Lost: repeated or with a difference it stays so, up to the next whole number.
      difference = null
      previous = Number.NaN
      values.push(previous)
    } else if (DIFFERENCE.includes(letter)) {
      difference = Number(digitOf(DIFFERENCE, letter) + rest)
      previous += difference
      values.push(previous)
    } else if (SQUEEZED.includes(letter)) {
      difference = null
      previous = Number(digitOf(SQUEEZED, letter) + rest)
      values.push(previous)
    } else if (DUPLICATE.includes(letter)) {
      const count = Number(`${DUPLICATE.indexOf(letter) + 1}${rest}`)
      for (let k = 1; k < count && values.length <= room + 1; k++) {
        if (difference !== null) previous += difference
        values.push(previous)
      }
    } else {
      difference = null
      previous = Number(token)
      values.push(previous)
    }
  }
  return { x, values, endsInDifference: difference !== null }
}
