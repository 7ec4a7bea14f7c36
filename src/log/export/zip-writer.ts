/**
 * A ZIP as a stream of chunks (APPNOTE.TXT 6.3, section numbers below): texts deflated, pictures
 * stored as they are; ZIP64 where there are more than 65,534 entries or 4 GB. Nothing is held but the
 * directory, about 100 bytes an entry.
 */
import { Deflate } from 'fflate'
import { crc32 } from '../crc32.ts'

const UTF8 = 1 << 11
const SIZES_FOLLOW = 1 << 3
const MAX_16 = 0xffff
const MAX_32 = 0xffff_ffff

interface Entry {
  readonly name: Uint8Array
  readonly flags: number
  readonly method: 0 | 8
  readonly crc: number
  readonly compressed: number
  readonly size: number
  readonly offset: number
}

export class ZipWriter {
  private readonly entries: Entry[] = []
  private readonly time: number
  private written = 0
  private readonly encoder = new TextEncoder()

  /** @param at time written for every entry (local time of the clock that made it) */
  constructor(at: Date) {
    this.time = dosTime(at)
  }

  /** Content of known length, stored. Offsets beyond 4 GB are fine, content beyond is not. */
  *stored(name: string, content: Uint8Array): Generator<Uint8Array> {
    const entry: Entry = {
      name: this.encoder.encode(name),
      flags: UTF8,
      method: 0,
      crc: crc32(content),
      compressed: content.length,
      size: content.length,
      offset: this.written,
    }
    this.entries.push(entry)
    yield this.count(localHeader(entry, this.time))
    yield this.count(content)
  }

  /** Content as it comes, deflated; its sizes follow it. At most 4 GB. */
  async *deflated(name: string, content: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
    const begun: Entry = {
      name: this.encoder.encode(name),
      flags: UTF8 | SIZES_FOLLOW,
      method: 8,
      crc: 0,
      compressed: 0,
      size: 0,
      offset: this.written,
    }
    yield this.count(localHeader(begun, this.time))
    let out: Uint8Array[] = []
    const deflate = new Deflate({ level: 6 }, (chunk) => out.push(chunk))
    let crc = 0
    let size = 0
    const from = this.written
    for await (const chunk of content) {
      crc = crc32(chunk, crc)
      size += chunk.length
      deflate.push(chunk)
      for (const part of out) yield this.count(part)
      out = []
    }
    deflate.push(new Uint8Array(0), true)
    for (const part of out) yield this.count(part)
    const compressed = this.written - from
    if (size > MAX_32 || compressed > MAX_32) throw new RangeError(`${name}: ${size} bytes`)
    const entry = { ...begun, crc, size, compressed }
    this.entries.push(entry)
    yield this.count(descriptor(entry))
  }

  /** The directory. Nothing may follow. */
  *end(): Generator<Uint8Array> {
    const offset = this.written
    for (const entry of this.entries) yield this.count(directoryHeader(entry, this.time))
    yield endRecords(this.entries.length, this.written - offset, offset)
  }

  private count(chunk: Uint8Array): Uint8Array {
    this.written += chunk.length
    return chunk
  }
}

/** Little-endian fields, one after the other. */
function fields(...parts: readonly (readonly [2 | 4 | 8, number] | Uint8Array)[]): Uint8Array {
  const length = parts.reduce((sum, p) => sum + (p instanceof Uint8Array ? p.length : p[0]), 0)
  const bytes = new Uint8Array(length)
  const view = new DataView(bytes.buffer)
  let at = 0
  for (const part of parts) {
    if (part instanceof Uint8Array) {
      bytes.set(part, at)
      at += part.length
      continue
    }
    const [width, value] = part
    if (width === 2) view.setUint16(at, value, true)
    else if (width === 4) view.setUint32(at, value, true)
    else view.setBigUint64(at, BigInt(value), true)
    at += width
  }
  return bytes
}

/** 4.3.7 */
function localHeader(e: Entry, time: number): Uint8Array {
  return fields(
    [4, 0x0403_4b50],
    [2, 20],
    [2, e.flags],
    [2, e.method],
    [4, time],
    [4, e.crc],
    [4, e.compressed],
    [4, e.size],
    [2, e.name.length],
    [2, 0],
    e.name,
  )
}

/** 4.3.9, with its customary signature. */
function descriptor(e: Entry): Uint8Array {
  return fields([4, 0x0807_4b50], [4, e.crc], [4, e.compressed], [4, e.size])
}

/** 4.3.12; a far offset moves into the ZIP64 extra field (4.5.3). */
function directoryHeader(e: Entry, time: number): Uint8Array {
  const far = e.offset >= MAX_32
  const extra = far ? fields([2, 1], [2, 8], [8, e.offset]) : new Uint8Array(0)
  return fields(
    [4, 0x0201_4b50],
    [2, far ? 45 : 20],
    [2, far ? 45 : 20],
    [2, e.flags],
    [2, e.method],
    [4, time],
    [4, e.crc],
    [4, e.compressed],
    [4, e.size],
    [2, e.name.length],
    [2, extra.length],
    [2, 0],
    [2, 0],
    [2, 0],
    [4, 0],
    [4, far ? MAX_32 : e.offset],
    e.name,
    extra,
  )
}

/** 4.3.14, 4.3.15, 4.3.16. */
function endRecords(count: number, size: number, offset: number): Uint8Array {
  const large = count >= MAX_16 || size >= MAX_32 || offset >= MAX_32
  const large64 = large
    ? fields(
        [4, 0x0606_4b50],
        [8, 44],
        [2, 45],
        [2, 45],
        [4, 0],
        [4, 0],
        [8, count],
        [8, count],
        [8, size],
        [8, offset],
        [4, 0x0706_4b50],
        [4, 0],
        [8, offset + size],
        [4, 1],
      )
    : new Uint8Array(0)
  const count16 = Math.min(count, MAX_16)
  return fields(
    large64,
    [4, 0x0605_4b50],
    [2, 0],
    [2, 0],
    [2, count16],
    [2, count16],
    [4, Math.min(size, MAX_32)],
    [4, Math.min(offset, MAX_32)],
    [2, 0],
  )
}

/** MS-DOS date and time, two-second steps, from 1980 on (4.4.6). */
function dosTime(at: Date): number {
  const year = Math.min(Math.max(at.getFullYear(), 1980), 2107)
  const date = ((year - 1980) << 9) | ((at.getMonth() + 1) << 5) | at.getDate()
  const time = (at.getHours() << 11) | (at.getMinutes() << 5) | (at.getSeconds() >> 1)
  return ((date << 16) | time) >>> 0
}
