import { deflateSync } from 'node:zlib'

export interface PngOptions {
  readonly iccProfile?: Uint8Array
  /** Primaries, transfer (ITU-T H.273). */
  readonly cicp?: readonly [number, number]
  readonly exif?: Uint8Array
  /** Frames of an animation. */
  readonly frames?: number
  readonly grey?: boolean
  /** Stands in the header instead of the true size. */
  readonly claims?: readonly [number, number]
  readonly gamma?: number
}

/** An 8-bit RGB PNG made for tests; `pixel` gives the three codes of a place. */
export function png(
  width: number,
  height: number,
  pixel: (x: number, y: number) => readonly number[],
  options: PngOptions = {},
): Uint8Array<ArrayBuffer> {
  const channels = options.grey ? 1 : 3
  const raw = Buffer.alloc((channels * width + 1) * height)
  let at = 0
  for (let y = 0; y < height; y++) {
    at++
    for (let x = 0; x < width; x++) {
      for (const code of pixel(x, y).slice(0, channels)) raw[at++] = code
    }
  }
  const header = Buffer.alloc(13)
  header.writeUInt32BE(options.claims?.[0] ?? width, 0)
  header.writeUInt32BE(options.claims?.[1] ?? height, 4)
  header[8] = 8
  header[9] = options.grey ? 0 : 2
  const chunks = [Buffer.from('89504e470d0a1a0a', 'hex'), chunk('IHDR', header)]
  if (options.cicp) chunks.push(chunk('cICP', Buffer.from([...options.cicp, 0, 1])))
  if (options.iccProfile) {
    const name = Buffer.from('profile\0\0', 'latin1')
    chunks.push(chunk('iCCP', Buffer.concat([name, deflateSync(options.iccProfile)])))
  }
  if (options.gamma) {
    const data = Buffer.alloc(4)
    data.writeUInt32BE(Math.round(1e5 / options.gamma))
    chunks.push(chunk('gAMA', data))
  }
  if (options.frames) {
    const data = Buffer.alloc(8)
    data.writeUInt32BE(options.frames)
    chunks.push(chunk('acTL', data))
  }
  if (options.exif) chunks.push(chunk('eXIf', Buffer.from(options.exif)))
  chunks.push(chunk('IDAT', deflateSync(raw)), chunk('IEND', Buffer.alloc(0)))
  return new Uint8Array(Buffer.concat(chunks))
}

function chunk(type: string, data: Buffer): Buffer {
  const body = Buffer.concat([Buffer.from(type, 'latin1'), data])
  const out = Buffer.alloc(body.length + 8)
  out.writeUInt32BE(data.length, 0)
  body.copy(out, 4)
  out.writeUInt32BE(crc32(body), body.length + 4)
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
