/** Pieces of picture files, for the tests of what is kept of them. */
import { crc32 } from '../../../src/log/crc32.ts'

export const ascii = (text: string) => [...text].map((c) => c.charCodeAt(0))

export function pngChunk(name: string, content: number[]): number[] {
  const body = [...ascii(name), ...content]
  const word = (n: number) => [n >>> 24, (n >>> 16) & 255, (n >>> 8) & 255, n & 255]
  return [...word(content.length), ...body, ...word(crc32(new Uint8Array(body)))]
}
