import { decodeTransfer } from '../../colour/rgb-spaces.ts'
import type { RgbSpace } from '../../light/image.ts'
import { ascii, spells, viewOf } from './bytes.ts'

export interface IccProfile {
  /** Description tag, at most 80 characters; empty where there is none. */
  readonly name: string
  /** Which of the two known spaces the profile is by its numbers, or `other`. */
  readonly space: RgbSpace | 'other'
}

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
    if (!spells(bytes, 36, 'acsp')) return { name, space: 'other' }
    const tags = readTags(bytes)
    name = readName(tags.get('desc'))
    if (!spells(bytes, 16, 'RGB ') || !spells(bytes, 20, 'XYZ ') || tags.has('A2B0')) {
      return { name, space: 'other' }
    }
    const colorants = ['rXYZ', 'gXYZ', 'bXYZ'].map((tag) => readXyz(tags.get(tag)))
    const curvesFit = ['rTRC', 'gTRC', 'bTRC'].every((tag) => isStandardCurve(tags.get(tag)))
    const space = (['srgb', 'display-p3'] as const).find((candidate) =>
      COLORANTS[candidate].every((expected, i) =>
        expected.every((v, j) => Math.abs(v - (colorants[i]?.[j] ?? 9)) < COLORANT_TOLERANCE),
      ),
    )
    return { name, space: space !== undefined && curvesFit ? space : 'other' }
  } catch (error) {
    if (error instanceof RangeError) return { name, space: 'other' }
    throw error
  }
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
