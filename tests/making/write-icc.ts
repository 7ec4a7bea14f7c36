import { decodeTransfer } from '../../src/colour/rgb-spaces.ts'

/** D50-adapted XYZ of red, green, blue. */
export type Colorants = readonly [readonly number[], readonly number[], readonly number[]]

/** Colorants as the profiles in use print them. */
export const P3_COLORANTS: Colorants = [
  [0.51512, 0.2412, -0.00105],
  [0.29198, 0.69225, 0.04189],
  [0.1571, 0.06657, 0.78407],
]
export const SRGB_COLORANTS: Colorants = [
  [0.43607, 0.22249, 0.01392],
  [0.38515, 0.71687, 0.09708],
  [0.14307, 0.06061, 0.7141],
]
/** Adobe RGB (1998), 4.3.1.1: primaries 0.64 0.33, 0.21 0.71, 0.15 0.06, adapted to D50 (Bradford). */
export const ADOBE_COLORANTS: Colorants = [
  [0.60974, 0.31111, 0.01947],
  [0.20528, 0.62567, 0.06087],
  [0.14919, 0.06322, 0.74457],
]
/** The sRGB transfer as a formula or as 1024 samples, or a power. */
export type Curve = 'parametric' | 'sampled' | { gamma: number }

/**
 * A matrix profile of an RGB space, for pictures that the project makes itself.
 *
 * Source: ICC.1:2022, 7.2 (header), 9.2 (tags), 10.6, 10.15, 10.18, 10.31 (tag types).
 */
export function writeIccProfile(
  name: string,
  colorants: Colorants,
  curve: Curve = 'parametric',
): Uint8Array<ArrayBuffer> {
  const tags: [string, Uint8Array][] = [
    ['desc', mluc(name)],
    ['wtpt', xyz([0.96419, 1, 0.82489])],
    ['rXYZ', xyz(colorants[0])],
    ['gXYZ', xyz(colorants[1])],
    ['bXYZ', xyz(colorants[2])],
    ['rTRC', trc(curve)],
    ['gTRC', trc(curve)],
    ['bTRC', trc(curve)],
  ]
  const start = 128 + 4 + 12 * tags.length
  const size = tags.reduce((sum, [, data]) => sum + padded(data.length), start)
  const out = new Uint8Array(size)
  const view = new DataView(out.buffer)
  const text = (at: number, s: string) => out.set(new TextEncoder().encode(s), at)
  view.setUint32(0, size)
  view.setUint32(8, 0x04300000)
  text(12, 'mntrRGB XYZ ')
  text(36, 'acsp')
  ;[0.9642, 1, 0.8249].forEach((v, i) => {
    view.setInt32(68 + 4 * i, fixed(v))
  })
  view.setUint32(128, tags.length)
  let at = start
  tags.forEach(([tag, data], i) => {
    text(132 + 12 * i, tag)
    view.setUint32(136 + 12 * i, at)
    view.setUint32(140 + 12 * i, data.length)
    out.set(data, at)
    at += padded(data.length)
  })
  return out
}

const padded = (n: number) => Math.ceil(n / 4) * 4
const fixed = (v: number) => Math.round(v * 65536)

function typed(type: string, length: number) {
  const data = new Uint8Array(8 + length)
  data.set(new TextEncoder().encode(type))
  return { data, view: new DataView(data.buffer) }
}

function xyz(values: readonly number[]): Uint8Array {
  const { data, view } = typed('XYZ ', 12)
  values.forEach((v, i) => {
    view.setInt32(8 + 4 * i, fixed(v))
  })
  return data
}

function mluc(name: string): Uint8Array {
  const { data, view } = typed('mluc', 20 + 2 * name.length)
  view.setUint32(8, 1)
  view.setUint32(12, 12)
  data.set(new TextEncoder().encode('enUS'), 16)
  view.setUint32(20, 2 * name.length)
  view.setUint32(24, 28)
  for (let i = 0; i < name.length; i++) view.setUint16(28 + 2 * i, name.charCodeAt(i))
  return data
}

function trc(curve: Curve): Uint8Array {
  if (curve === 'parametric') {
    const { data, view } = typed('para', 24)
    view.setUint16(8, 3)
    ;[2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045].forEach((v, i) => {
      view.setInt32(12 + 4 * i, fixed(v))
    })
    return data
  }
  if (curve === 'sampled') {
    const { data, view } = typed('curv', 4 + 2 * 1024)
    view.setUint32(8, 1024)
    for (let i = 0; i < 1024; i++) {
      view.setUint16(12 + 2 * i, Math.round(65535 * decodeTransfer(i / 1023)))
    }
    return data
  }
  const { data, view } = typed('curv', 8)
  view.setUint32(8, 1)
  view.setUint16(12, Math.round(256 * curve.gamma))
  return data
}
