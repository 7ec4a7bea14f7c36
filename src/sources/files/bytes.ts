/** ASCII text of a stretch of bytes; beyond the end it is cut short. */
export function ascii(bytes: Uint8Array, start: number, length: number): string {
  return String.fromCharCode(...bytes.subarray(start, start + length))
}

/** The bytes at `start` spell `text` (one byte a character). */
export function spells(bytes: Uint8Array, start: number, text: string): boolean {
  for (let i = 0; i < text.length; i++) {
    if (bytes[start + i] !== text.charCodeAt(i)) return false
  }
  return true
}

/** Where `text` first stands within [start, end), or -1. */
export function find(bytes: Uint8Array, text: string, start = 0, end = bytes.length): number {
  const first = text.charCodeAt(0)
  for (let i = bytes.indexOf(first, start); i >= 0 && i + text.length <= end; ) {
    if (spells(bytes, i, text)) return i
    i = bytes.indexOf(first, i + 1)
  }
  return -1
}

/** A view on the same bytes; reading past the end throws RangeError, which means "truncated". */
export function viewOf(bytes: Uint8Array): DataView {
  return new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength)
}
