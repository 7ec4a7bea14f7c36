import { describe, expect, test } from 'vitest'
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'
import {
  decodeText,
  MAX_TEXT_BYTES,
  readTextFile,
} from '../../../src/sources/spectrum/decode-text.ts'

const WRITTEN = 'Wellenlänge (µm);Zähler\n0,5;12\n0,6;34\n'

/** UTF-16 by hand: TextEncoder writes UTF-8 only. */
function utf16(text: string, littleEndian: boolean, mark: boolean): Uint8Array {
  const codes = [...(mark ? '\uFEFF' : ''), ...text].map((letter) => letter.charCodeAt(0))
  const view = new DataView(new ArrayBuffer(2 * codes.length))
  for (const [i, code] of codes.entries()) view.setUint16(2 * i, code, littleEndian)
  return new Uint8Array(view.buffer)
}

describe('bytes become text', () => {
  const utf8 = new TextEncoder().encode(WRITTEN)
  // ISO 8859-1 and Windows-1252 agree on these letters: one byte each, the code itself.
  const latin = Uint8Array.from(WRITTEN, (letter) => letter.charCodeAt(0))
  test.each<[string, Uint8Array]>([
    ['UTF-8', utf8],
    ['UTF-8 with byte-order mark', Uint8Array.from([0xef, 0xbb, 0xbf, ...utf8])],
    ['UTF-16 LE with mark', utf16(WRITTEN, true, true)],
    ['UTF-16 BE with mark', utf16(WRITTEN, false, true)],
    ['Windows-1252', latin],
  ])('%s', (_, bytes) => {
    expect(decodeText(bytes)).toBe(WRITTEN)
  })

  test.each([true, false])(
    'UTF-16 without a mark, little-endian %s, by its zero bytes',
    (little) => {
      const plain = '500,12\n510,13\n520,15\n'
      expect(decodeText(utf16(plain, little, false))).toBe(plain)
    },
  )

  test('what is no text stays something that the import refuses', () => {
    const picture = Uint8Array.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a, 0, 0, 0, 13])
    const result = importSpectra(decodeText(picture))
    expect(result.ok).toBe(false)
    if (!result.ok) expect(result.code).toBe('not text')
  })
})

test('a file that is too large is refused before it is read', async () => {
  const large = new Blob([new Uint8Array(MAX_TEXT_BYTES + 1)])
  expect(await readTextFile(large)).toEqual({
    ok: false,
    refusal: { code: 'file too large', bytes: MAX_TEXT_BYTES + 1, allowed: MAX_TEXT_BYTES },
  })
})

test('a file that has gone away is refused', async () => {
  const gone = { size: 10, arrayBuffer: () => Promise.reject(new Error('NotReadableError')) }
  const result = await readTextFile(gone as unknown as Blob)
  expect(result).toEqual({ ok: false, refusal: { code: 'file unreadable' } })
})
