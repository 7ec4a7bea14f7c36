/**
 * Reads a ZIP by its directory, piece by piece from the file on disk (APPNOTE.TXT 6.3). Sizes are
 * checked as declared before anything is inflated, and as they come while it is: an archive that
 * swells, lies about its sizes or lets entries share their bytes is refused.
 */
import { Inflate } from 'fflate'
import { crc32 } from '../crc32.ts'
import { FILE_LIMITS } from '../schema/file-format.ts'
import { broken, tooLarge } from './refused.ts'

export interface ZipEntry {
  readonly name: string
  readonly method: 0 | 8
  readonly crc: number
  readonly compressed: number
  readonly size: number
  readonly offset: number
}

const END = 0x0605_4b50
const END_BYTES = 22
const COMMENT_MOST = 65_535
const CHUNK = 1 << 16
/** Deflate swells at most 1032 times: 4 MB a step, after which sizes are looked at. */
const STEP = 4096
/**
 * Steps without output: a stored block makes the inflater wait for up to 64 kB; more is padding after
 * the end, on which it would copy itself to death.
 */
const SILENT_MOST = 64
/** Below this a high ratio is harmless: a run of blanks, an empty log. */
const RATIO_FROM = 1_000_000

/** The directory, checked; directories and empty names are left out. */
export async function zipDirectory(file: Blob): Promise<ZipEntry[]> {
  const { count, size, offset, before } = await endOfDirectory(file)
  if (count > FILE_LIMITS.zipEntries) throw tooLarge(`${count} entries`)
  if (size > FILE_LIMITS.zipDirectoryBytes) throw tooLarge(`directory of ${size} bytes`)
  if (offset + size > before) throw broken('directory outside of the file')
  const entries = parseDirectory(await bytesOf(file, offset, offset + size), count)
  let end = 0
  let total = 0
  for (const entry of [...entries].sort((a, b) => a.offset - b.offset)) {
    // A local header is at least 30 bytes; entries that share bytes are how small bombs grow large.
    if (entry.offset < end) throw broken(`${entry.name}: overlaps another entry`)
    end = entry.offset + 30 + entry.compressed
    if (end > offset) throw broken(`${entry.name}: outside of the file`)
    total += entry.size
    const swollen = entry.size > FILE_LIMITS.zipRatio * entry.compressed
    if (entry.size > RATIO_FROM && swollen) throw tooLarge(`${entry.name}: swells`)
  }
  if (total > FILE_LIMITS.zipTotalBytes) throw tooLarge(`${total} bytes`)
  return entries.filter((entry) => entry.name !== '' && !entry.name.endsWith('/'))
}

/** The content of an entry in chunks; its size and check sum are those declared, or it is refused. */
export async function* entryChunks(
  file: Blob,
  entry: ZipEntry,
  most: number,
): AsyncGenerator<Uint8Array> {
  if (entry.size > most) throw tooLarge(`${entry.name}: ${entry.size} bytes`)
  const header = viewOf(await bytesOf(file, entry.offset, entry.offset + 30))
  if (header.byteLength < 30 || header.getUint32(0, true) !== 0x0403_4b50) {
    throw broken(`${entry.name}: no header`)
  }
  const start = entry.offset + 30 + header.getUint16(26, true) + header.getUint16(28, true)
  let size = 0
  let crc = 0
  for await (const chunk of contentChunks(file, entry, start)) {
    size += chunk.length
    if (size > entry.size) throw broken(`${entry.name}: more than declared`)
    crc = crc32(chunk, crc)
    yield chunk
  }
  if (size !== entry.size) throw broken(`${entry.name}: less than declared`)
  if (crc !== entry.crc) throw broken(`${entry.name}: check sum`)
}

async function* contentChunks(
  file: Blob,
  entry: ZipEntry,
  start: number,
): AsyncGenerator<Uint8Array> {
  const end = start + entry.compressed
  let out: Uint8Array[] = []
  const inflate = new Inflate((chunk) => {
    if (chunk.length > 0) out.push(chunk)
  })
  let silent = 0
  for (let from = start; from < end; from += CHUNK) {
    const raw = await bytesOf(file, from, Math.min(from + CHUNK, end))
    if (raw.length === 0) throw broken(`${entry.name}: cut short`)
    if (entry.method === 0) {
      yield raw
      continue
    }
    for (let at = 0; at < raw.length; at += STEP) {
      inflated(inflate, raw.subarray(at, at + STEP), false, entry)
      silent = out.length === 0 ? silent + 1 : 0
      if (silent > SILENT_MOST) throw broken(`${entry.name}: no content`)
      yield* out
      out = []
    }
  }
  if (entry.method === 8) {
    inflated(inflate, new Uint8Array(0), true, entry)
    yield* out
  }
}

function inflated(inflate: Inflate, input: Uint8Array, final: boolean, entry: ZipEntry): void {
  try {
    inflate.push(input, final)
  } catch {
    throw broken(`${entry.name}: cannot be inflated`)
  }
}

interface End {
  readonly count: number
  readonly size: number
  readonly offset: number
  /** Where the end records begin: the directory lies before. */
  readonly before: number
}

async function endOfDirectory(file: Blob): Promise<End> {
  const from = Math.max(0, file.size - END_BYTES - COMMENT_MOST)
  const tail = viewOf(await bytesOf(file, from, file.size))
  for (let at = tail.byteLength - END_BYTES; at >= 0; at--) {
    if (tail.getUint32(at, true) !== END) continue
    if (at + END_BYTES + tail.getUint16(at + 20, true) !== tail.byteLength) continue
    const end: End = {
      count: tail.getUint16(at + 10, true),
      size: tail.getUint32(at + 12, true),
      offset: tail.getUint32(at + 16, true),
      before: from + at,
    }
    const large = end.count === 0xffff || end.size === 0xffff_ffff || end.offset === 0xffff_ffff
    return large ? endOfLargeDirectory(file, end) : end
  }
  throw broken('no end of directory')
}

/** ZIP64 (4.3.14, 4.3.15). */
async function endOfLargeDirectory(file: Blob, small: End): Promise<End> {
  const locator = viewOf(await bytesOf(file, small.before - 20, small.before))
  if (locator.byteLength < 20 || locator.getUint32(0, true) !== 0x0706_4b50) return small
  const before = Number(locator.getBigUint64(8, true))
  const record = viewOf(await bytesOf(file, before, before + 56))
  if (record.byteLength < 56 || record.getUint32(0, true) !== 0x0606_4b50) {
    throw broken('no end of directory')
  }
  return {
    count: Number(record.getBigUint64(32, true)),
    size: Number(record.getBigUint64(40, true)),
    offset: Number(record.getBigUint64(48, true)),
    before,
  }
}

function parseDirectory(bytes: Uint8Array, count: number): ZipEntry[] {
  const view = viewOf(bytes)
  const decoder = new TextDecoder()
  const entries: ZipEntry[] = []
  let at = 0
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || view.getUint32(at, true) !== 0x0201_4b50) {
      throw broken('directory cut short')
    }
    const nameLength = view.getUint16(at + 28, true)
    const extraLength = view.getUint16(at + 30, true)
    const end = at + 46 + nameLength + extraLength + view.getUint16(at + 32, true)
    if (end > bytes.length) throw broken('directory cut short')
    const name = decoder.decode(bytes.subarray(at + 46, at + 46 + nameLength))
    if (view.getUint16(at + 8, true) & 1) throw broken(`${name}: encrypted`)
    const method = view.getUint16(at + 10, true)
    if (method !== 0 && method !== 8) throw broken(`${name}: compression ${method}`)
    const extra = bytes.subarray(at + 46 + nameLength, at + 46 + nameLength + extraLength)
    const sizes = largeSizes(extra, {
      size: view.getUint32(at + 24, true),
      compressed: view.getUint32(at + 20, true),
      offset: view.getUint32(at + 42, true),
    })
    if (method === 0 && sizes.size !== sizes.compressed) throw broken(`${name}: sizes`)
    entries.push({ name, method, crc: view.getUint32(at + 16, true), ...sizes })
    at = end
  }
  return entries
}

/** Sizes that do not fit 32 bits stand in the extra field 1, in this order (4.5.3). */
function largeSizes(
  extra: Uint8Array,
  sizes: Pick<ZipEntry, 'size' | 'compressed' | 'offset'>,
): Pick<ZipEntry, 'size' | 'compressed' | 'offset'> {
  const view = viewOf(extra)
  for (let at = 0; at + 4 <= extra.length; ) {
    const id = view.getUint16(at, true)
    const end = at + 4 + view.getUint16(at + 2, true)
    if (id === 1) {
      let next = at + 4
      const wide = (value: number) => {
        if (value !== 0xffff_ffff || next + 8 > Math.min(end, extra.length)) return value
        next += 8
        return Number(view.getBigUint64(next - 8, true))
      }
      const size = wide(sizes.size)
      const compressed = wide(sizes.compressed)
      return { size, compressed, offset: wide(sizes.offset) }
    }
    at = end
  }
  return sizes
}

async function bytesOf(file: Blob, from: number, to: number): Promise<Uint8Array> {
  if (from < 0) return new Uint8Array(0)
  return new Uint8Array(await file.slice(from, to).arrayBuffer())
}

function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
}
