import { crc32 } from '../../log/crc32.ts'

/**
 * Name of a photo by what is in its file: the same file opened twice, under whatever name, has the
 * same one. CRC-32 and length: of the few cards of one person no two agree by chance.
 */
export async function contentIdOf(blob: Blob): Promise<string> {
  const bytes = new Uint8Array(await blob.arrayBuffer())
  return `content ${crc32(bytes).toString(16).padStart(8, '0')} ${bytes.length}`
}
