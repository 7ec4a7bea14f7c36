/** ZIP archives byte by byte (APPNOTE.TXT 6.3, section numbers below), sound or not as a test wants them. */
import { deflateSync } from 'fflate'
import { crc32 } from '../../../src/log/crc32.ts'

export interface Forged {
  readonly name: string
  readonly content: Uint8Array
  /** What its directory says where that differs from the truth. */
  readonly said?: Partial<
    Record<'flags' | 'method' | 'crc' | 'compressed' | 'size' | 'offset', number>
  >
  /** Stored when it is 0. */
  readonly method?: 0 | 8
  /** As they lie in the file, where they are not deflated as usual. */
  readonly raw?: Uint8Array
  /** Extra field of the local header, and of the directory. */
  readonly localExtra?: readonly number[]
  readonly extra?: readonly number[]
  readonly comment?: string
}

export interface End {
  readonly count?: number
  readonly size?: number
  readonly offset?: number
  readonly comment?: string
  /** ZIP64 records before the end; what they say. */
  readonly large?: Partial<Record<'count' | 'size' | 'offset' | 'mark' | 'locator', number>>
}

export const WIDE = 0xffff_ffff
const text = (of: string) => new TextEncoder().encode(of)

/** Little-endian: `[bytes, value]`. */
export function littleEndian(...fields: readonly (readonly [2 | 4 | 8, number])[]): number[] {
  return fields.flatMap(([bytes, value]) =>
    Array.from({ length: bytes }, (_, i) => Math.floor(value / 2 ** (8 * i)) % 256),
  )
}

export function forgedZip(entries: readonly Forged[], end: End = {}): Uint8Array<ArrayBuffer> {
  const parts: Uint8Array[] = []
  const directory: number[][] = []
  let at = 0
  for (const entry of entries) {
    const {
      name,
      content,
      method = 8,
      localExtra = [],
      extra = [],
      comment = '',
      said = {},
    } = entry
    const raw = entry.raw ?? (method === 0 ? content : deflateSync(content))
    const truth = {
      flags: 0,
      method,
      crc: crc32(content),
      compressed: raw.length,
      size: content.length,
      offset: at,
    }
    const told = { ...truth, ...said }
    const { crc, compressed, size } = truth
    const name8 = text(name)
    // 4.3.7
    const header = [
      ...littleEndian([4, 0x0403_4b50], [2, 20], [2, 0], [2, method], [4, 0], [4, crc]),
      ...littleEndian([4, compressed], [4, size], [2, name8.length], [2, localExtra.length]),
      ...name8,
      ...localExtra,
    ]
    parts.push(Uint8Array.from(header), raw)
    // 4.3.12
    directory.push([
      ...littleEndian(
        [4, 0x0201_4b50],
        [2, 20],
        [2, 20],
        [2, told.flags],
        [2, told.method],
        [4, 0],
      ),
      ...littleEndian([4, told.crc], [4, told.compressed], [4, told.size], [2, name8.length]),
      ...littleEndian([2, extra.length], [2, comment.length], [2, 0], [2, 0], [4, 0]),
      ...littleEndian([4, told.offset]),
      ...name8,
      ...extra,
      ...text(comment),
    ])
    at += header.length + raw.length
  }
  const size = directory.flat().length
  const count = entries.length
  const { large, comment = '' } = end
  // 4.3.14, 4.3.15
  const records =
    large === undefined
      ? []
      : [
          ...littleEndian(
            [4, large.mark ?? 0x0606_4b50],
            [8, 44],
            [2, 45],
            [2, 45],
            [4, 0],
            [4, 0],
          ),
          ...littleEndian([8, large.count ?? count], [8, large.count ?? count]),
          ...littleEndian([8, large.size ?? size], [8, large.offset ?? at]),
          ...littleEndian([4, large.locator ?? 0x0706_4b50], [4, 0], [8, at + size], [4, 1]),
        ]
  // 4.3.16
  const last = [
    ...littleEndian([4, 0x0605_4b50], [2, 0], [2, 0], [2, end.count ?? count]),
    ...littleEndian([2, end.count ?? count], [4, end.size ?? size], [4, end.offset ?? at]),
    ...littleEndian([2, comment.length]),
    ...text(comment),
  ]
  parts.push(Uint8Array.from([...directory.flat(), ...records, ...last]))
  const whole = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let to = 0
  for (const part of parts) {
    whole.set(part, to)
    to += part.length
  }
  return whole
}
