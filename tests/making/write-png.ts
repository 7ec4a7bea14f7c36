import { zlibSync } from 'fflate'

export interface PngOptions {
  readonly iccProfile?: Uint8Array
  /** Primaries and transfer (ITU-T H.273). */
  readonly cicp?: readonly [number, number]
  /** Whether codes of the cICP chunk run from black 16 to white 235. */
  readonly narrow?: boolean
  /** TIFF block. */
  readonly exif?: Uint8Array
  readonly gamma?: number
  /** Codes of one channel instead of three. */
  readonly grey?: boolean
  /** For tests: frames of an animation that are announced, and a size other than the true one. */
  readonly frames?: number
  readonly claims?: readonly [number, number]
}

/**
 * An 8-bit PNG, for pictures that the project makes itself: probes and tests.
 *
 * @param pixel the three codes of a place
 * Source: PNG 3rd edition (W3C 2025), chapters 5, 10 and 11.
 */
export function writePng(
  width: number,
  height: number,
  pixel: (x: number, y: number) => readonly number[],
  options: PngOptions = {},
): Uint8Array<ArrayBuffer> {
  const channels = options.grey ? 1 : 3
  const rows = new Uint8Array((channels * width + 1) * height)
  let at = 0
  for (let y = 0; y < height; y++) {
    at++ // filter 0
    for (let x = 0; x < width; x++) {
      for (const code of pixel(x, y).slice(0, channels)) rows[at++] = code
    }
  }
  const [w, h] = options.claims ?? [width, height]
  const chunks = [
    Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a),
    chunk('IHDR', [...be32(w), ...be32(h), 8, options.grey ? 0 : 2, 0, 0, 0]),
  ]
  if (options.cicp) chunks.push(chunk('cICP', [...options.cicp, 0, options.narrow ? 0 : 1]))
  if (options.iccProfile) {
    const name = [...'profile\0\0'].map((c) => c.charCodeAt(0))
    chunks.push(chunk('iCCP', [...name, ...zlibSync(options.iccProfile, { level: 9 })]))
  }
  if (options.gamma) chunks.push(chunk('gAMA', be32(Math.round(1e5 / options.gamma))))
  if (options.frames) chunks.push(chunk('acTL', [...be32(options.frames), 0, 0, 0, 0]))
  if (options.exif) chunks.push(chunk('eXIf', options.exif))
  chunks.push(chunk('IDAT', zlibSync(rows, { level: 9 })), chunk('IEND', []))

  const file = new Uint8Array(chunks.reduce((sum, part) => sum + part.length, 0))
  let end = 0
  for (const part of chunks) {
    file.set(part, end)
    end += part.length
  }
  return file
}

const be32 = (v: number) => [(v >>> 24) & 255, (v >>> 16) & 255, (v >>> 8) & 255, v & 255]

function chunk(type: string, data: ArrayLike<number>): Uint8Array<ArrayBuffer> {
  const out = new Uint8Array(data.length + 12)
  out.set(be32(data.length))
  out.set(
    [...type].map((c) => c.charCodeAt(0)),
    4,
  )
  out.set(data, 8)
  out.set(be32(crc32(out.subarray(4, data.length + 8))), data.length + 8)
  return out
}

const TABLE = Uint32Array.from({ length: 256 }, (_, n) => {
  let c = n
  for (let k = 0; k < 8; k++) c = c & 1 ? 0xedb88320 ^ (c >>> 1) : c >>> 1
  return c
})

/** CRC-32 (PNG 3rd edition, annex D). */
function crc32(bytes: Uint8Array): number {
  let c = 0xffffffff
  for (const byte of bytes) c = TABLE[(c ^ byte) & 255]! ^ (c >>> 8)
  return (c ^ 0xffffffff) >>> 0
}
