import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import type { RgbSpace } from '../../light/image.ts'
import { invert, type Matrix3, multiply, type Triple } from '../../numerics/matrix3.ts'
import { ascii, spells, viewOf } from './bytes.ts'

export interface IccProfile {
  /** Description tag, at most 80 characters; empty where there is none. */
  readonly name: string
  /** Which of the two known spaces the profile is by its numbers, or `other`. */
  readonly space: RgbSpace | 'other'
  /** What a matrix profile of another space says; null for one of a known space or of another kind. */
  readonly matrix: MatrixProfile | null
}

/** Stored codes to linear light by the file's own primaries and curves; plain data. */
export interface MatrixProfile {
  /** Linear RGB of the file -> linear Display P3. */
  readonly toP3: Matrix3
  /** Linear light at 1024 even steps of the code, 0..1, of each channel. */
  readonly curves: readonly [Float64Array, Float64Array, Float64Array]
}
/** Steps of a curve that is carried as a table. */
export const CURVE_STEPS = 1024

/** Colorants (D50, rows X Y Z of red, green, blue) as the ICC registry's profiles print them. */
const COLORANTS: Record<RgbSpace, readonly (readonly [number, number, number])[]> = {
  srgb: [
    [0.43607, 0.22249, 0.01392],
    [0.38515, 0.71687, 0.09708],
    [0.14307, 0.06061, 0.7141],
  ],
  'display-p3': [
    [0.51512, 0.2412, -0.00105],
    [0.29198, 0.69225, 0.04189],
    [0.1571, 0.06657, 0.78407],
  ],
}
/** The printings in use differ by less than 0.001; the next space is further away than 0.03. */
const COLORANT_TOLERANCE = 0.003
/** Largest departure of the tone curve in linear light: a quarter of a code at the top. */
const CURVE_TOLERANCE = 0.002

/**
 * Name and space of an ICC profile, judged by its colorants and curves and not by its name.
 * Anything that is not a matrix profile with the sRGB curve is `other`, broken profiles included.
 *
 * Source: ICC.1:2022, 7.2 (header), 9.2 (tags), 10.6 (curv), 10.15 (mluc), 10.18 (para), 10.31 (XYZ).
 */
export function readIccProfile(bytes: Uint8Array): IccProfile {
  let name = ''
  try {
    if (!spells(bytes, 36, 'acsp')) return { name, space: 'other', matrix: null }
    const tags = readTags(bytes)
    name = readName(tags.get('desc'))
    if (!spells(bytes, 16, 'RGB ') || !spells(bytes, 20, 'XYZ ') || tags.has('A2B0')) {
      return { name, space: 'other', matrix: null }
    }
    const colorants = ['rXYZ', 'gXYZ', 'bXYZ'].map((tag) => readXyz(tags.get(tag)))
    const curvesFit = ['rTRC', 'gTRC', 'bTRC'].every((tag) => isStandardCurve(tags.get(tag)))
    const space = (['srgb', 'display-p3'] as const).find((candidate) =>
      COLORANTS[candidate].every((expected, i) =>
        expected.every((v, j) => Math.abs(v - (colorants[i]?.[j] ?? 9)) < COLORANT_TOLERANCE),
      ),
    )
    if (space !== undefined && curvesFit) return { name, space, matrix: null }
    return { name, space: 'other', matrix: matrixProfile(tags, colorants) }
  } catch (error) {
    if (error instanceof RangeError) return { name, space: 'other', matrix: null }
    throw error
  }
}

function matrixProfile(
  tags: ReadonlyMap<string, Uint8Array>,
  colorants: readonly (readonly number[])[],
): MatrixProfile | null {
  const tables = ['rTRC', 'gTRC', 'bTRC'].map((tag) => {
    const data = tags.get(tag)
    const curve = data === undefined ? null : readCurve(data)
    return (
      curve && Float64Array.from({ length: CURVE_STEPS }, (_, i) => curve(i / (CURVE_STEPS - 1)))
    )
  })
  const rising = (table: Float64Array | null): table is Float64Array =>
    table?.every(
      (v, i) =>
        Number.isFinite(v) && v >= -1e-6 && v <= 1.01 && (i === 0 || v >= table[i - 1]! - 1e-6),
    ) === true && table.at(-1)! > 0.5
  const [r, g, b] = tables
  if (!(r && g && b && rising(r) && rising(g) && rising(b))) return null
  if (colorants.some((v) => v.length !== 3 || !v.every(Number.isFinite))) return null
  const columns = (of: readonly (readonly number[])[]): Matrix3 => {
    const row = (k: number): Triple => [of[0]![k]!, of[1]![k]!, of[2]![k]!]
    return [row(0), row(1), row(2)]
  }
  // Both are counted from D50: the profile connection space cancels out.
  const toP3 = multiply(invert(columns(COLORANTS['display-p3'])), columns(colorants))
  return toP3.flat().every(Number.isFinite) ? { toP3, curves: [r, g, b] } : null
}

function readTags(bytes: Uint8Array): Map<string, Uint8Array> {
  const view = viewOf(bytes)
  const tags = new Map<string, Uint8Array>()
  const count = Math.min(view.getUint32(128), 200)
  for (let i = 0; i < count; i++) {
    const at = 132 + 12 * i
    const start = view.getUint32(at + 4)
    tags.set(ascii(bytes, at, 4), bytes.subarray(start, start + view.getUint32(at + 8)))
  }
  return tags
}

function readName(tag: Uint8Array | undefined): string {
  if (tag === undefined) return ''
  const view = viewOf(tag)
  if (spells(tag, 0, 'desc')) {
    return ascii(tag, 12, Math.min(80, view.getUint32(8))).replace(/\0.*$/s, '')
  }
  if (spells(tag, 0, 'mluc') && view.getUint32(8) > 0) {
    const length = Math.min(160, view.getUint32(20))
    const start = view.getUint32(24)
    let name = ''
    for (let i = 0; i + 1 < length; i += 2) name += String.fromCharCode(view.getUint16(start + i))
    return name.replace(/\0.*$/s, '')
  }
  return ''
}

const fixed = (view: DataView, at: number) => view.getInt32(at) / 65536

function readXyz(tag: Uint8Array | undefined): readonly number[] {
  if (tag === undefined || !spells(tag, 0, 'XYZ ')) return []
  const view = viewOf(tag)
  return [fixed(view, 8), fixed(view, 12), fixed(view, 16)]
}

function isStandardCurve(tag: Uint8Array | undefined): boolean {
  const curve = tag === undefined ? null : readCurve(tag)
  if (curve === null) return false
  for (let code = 0; code <= 255; code += 15) {
    if (Math.abs(curve(code / 255) - decodeTransfer(code / 255)) > CURVE_TOLERANCE) return false
  }
  return true
}

/** Stored code -> linear light; null for a curve type that is not known. */
function readCurve(tag: Uint8Array): ((code: number) => number) | null {
  const view = viewOf(tag)
  if (spells(tag, 0, 'curv')) {
    const count = view.getUint32(8)
    if (count === 0) return (code) => code
    if (count === 1) return (code) => code ** (view.getUint16(12) / 256)
    return (code) => {
      const at = code * (count - 1)
      const low = Math.min(Math.floor(at), count - 2)
      const value = (i: number) => view.getUint16(12 + 2 * i) / 65535
      return value(low) + (at - low) * (value(low + 1) - value(low))
    }
  }
  if (!spells(tag, 0, 'para')) return null
  const kind = view.getUint16(8)
  const p = (i: number) => fixed(view, 12 + 4 * i)
  if (kind === 0) return (code) => code ** p(0)
  if (kind === 3) return (x) => (x >= p(4) ? (p(1) * x + p(2)) ** p(0) : p(3) * x)
  if (kind === 4) return (x) => (x >= p(4) ? (p(1) * x + p(2)) ** p(0) + p(5) : p(3) * x + p(6))
  return null
}
