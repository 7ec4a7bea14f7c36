/**
 * Records of the journal as bytes. A frame is a head of 24 bytes (little endian: mark, length of the
 * text, CRC-32 of all that follows it, kind, turn) and a text in UTF-8. What was cut short or changed
 * fails its check sum, and the journal ends before it.
 */
import { crc32 } from '../crc32.ts'

export const KINDS = ['header', 'part', 'end', 'abort', 'snapshot'] as const
/**
 * `part`: changes of a turn, more follow; `end`: its last ones; `abort`: the turn was taken back;
 * `snapshot`: the parts of this turn before it hold all there is.
 */
export type FrameKind = (typeof KINDS)[number]

export interface Frame {
  readonly kind: FrameKind
  readonly turn: number
  readonly text: string
}

const MARK = 0x314a_4247
const HEAD = 24
const CHECKED_FROM = 12
/** Longer than any frame that is written: a length beyond it is damage. */
const TEXT_BYTES_MOST = 1 << 28
const WINDOW = 1 << 20

export function frameBytes({ kind, turn, text }: Frame): Uint8Array<ArrayBuffer> {
  const content = new TextEncoder().encode(text)
  const bytes = new Uint8Array(HEAD + content.length)
  const view = new DataView(bytes.buffer)
  view.setUint32(0, MARK, true)
  view.setUint32(4, content.length, true)
  view.setUint32(12, KINDS.indexOf(kind), true)
  view.setFloat64(16, turn, true)
  bytes.set(content, HEAD)
  view.setUint32(8, crc32(bytes.subarray(CHECKED_FROM)), true)
  return bytes
}

/** The sound frames of a file, each with the place where it ends; stops at the first that is not. */
export async function* framesIn(file: Blob): AsyncGenerator<Frame & { readonly end: number }> {
  let window = new Uint8Array(0)
  let windowAt = 0
  const bytesAt = async (at: number, length: number) => {
    if (at < windowAt || at + length > windowAt + window.length) {
      windowAt = at
      const piece = file.slice(at, at + Math.max(length, WINDOW))
      window = new Uint8Array(await piece.arrayBuffer())
    }
    return window.subarray(at - windowAt, at - windowAt + length)
  }
  for (let at = 0; at + HEAD <= file.size; ) {
    const head = await bytesAt(at, HEAD)
    const view = new DataView(head.buffer, head.byteOffset, HEAD)
    const length = view.getUint32(4, true)
    const kind = KINDS[view.getUint32(12, true)]
    const end = at + HEAD + length
    const sound = view.getUint32(0, true) === MARK && kind !== undefined
    if (!sound || length > TEXT_BYTES_MOST || end > file.size) return
    const check = view.getUint32(8, true)
    const turn = view.getFloat64(16, true)
    const whole = await bytesAt(at, HEAD + length)
    if (crc32(whole.subarray(CHECKED_FROM)) !== check) return
    // Decoded where it is read: who only looks for the turns does without.
    yield {
      kind,
      turn,
      end,
      get text() {
        return new TextDecoder().decode(whole.subarray(HEAD))
      },
    }
    at = end
  }
}
