/** A spectrometer of 16,000 pixels writes some 400 kB; this leaves room for ten such in one file. */
export const MAX_TEXT_BYTES = 5_000_000

/** Why a file is not even text. */
export type TextRefusal =
  | { readonly code: 'file too large'; readonly bytes: number; readonly allowed: number }
  | { readonly code: 'file unreadable' }

export type TextResult =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly refusal: TextRefusal }

/** The text of a file that a person chose; its size is judged before it is read. */
export async function readTextFile(file: Blob): Promise<TextResult> {
  if (file.size > MAX_TEXT_BYTES) {
    const refusal = { code: 'file too large', bytes: file.size, allowed: MAX_TEXT_BYTES } as const
    return { ok: false, refusal }
  }
  try {
    return { ok: true, text: decodeText(new Uint8Array(await file.arrayBuffer())) }
  } catch {
    // A file that was moved or whose card was pulled out after it was picked.
    return { ok: false, refusal: { code: 'file unreadable' } }
  }
}

/**
 * Bytes as text: UTF-16 by its byte-order mark or by the zero bytes that Latin letters leave, else
 * UTF-8, else Windows-1252 (in which older instruments write the micro sign).
 *
 * Source: WHATWG Encoding Standard, 6.1 (BOM sniff).
 */
export function decodeText(bytes: Uint8Array): string {
  const utf16 = utf16Kind(bytes)
  if (utf16 !== null) return new TextDecoder(utf16).decode(bytes)
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  } catch {
    return new TextDecoder('windows-1252').decode(bytes)
  }
}

/** Bytes looked at for zeros. */
const SNIFFED = 512

function utf16Kind(bytes: Uint8Array): 'utf-16le' | 'utf-16be' | null {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return 'utf-16le'
  if (bytes[0] === 0xfe && bytes[1] === 0xff) return 'utf-16be'
  const length = Math.min(bytes.length, SNIFFED) & ~1
  if (length < 8) return null
  let even = 0
  let odd = 0
  for (let i = 0; i < length; i += 2) {
    if (bytes[i] === 0) even++
    if (bytes[i + 1] === 0) odd++
  }
  // Numbers are ASCII: in UTF-16 one byte of each pair is zero and the other never.
  const half = length / 2
  if (odd > 0.8 * half && even === 0) return 'utf-16le'
  return even > 0.8 * half && odd === 0 ? 'utf-16be' : null
}
