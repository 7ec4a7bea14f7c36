import { describe, expect, test } from 'vitest'
import { crc32 } from '../../../src/log/crc32.ts'
import { isPictureOf, pictureFrom } from '../../../src/log/store/pictures.ts'
import { failureOf, jpegWithMetadata } from '../opening.ts'
import { ascii, pngChunk } from './picture-parts.ts'

const png = new Uint8Array(
  [0x89, ...ascii('PNG\r\n'), 0x1a, 0x0a].concat(
    pngChunk('IHDR', [0, 0, 0, 1, 0, 0, 0, 1, 8, 2, 0, 0, 0]),
    pngChunk('tEXt', ascii('place')),
    pngChunk('IEND', []),
  ),
)
const from = (bytes: Uint8Array<ArrayBuffer>, type: string) =>
  pictureFrom({ blob: new Blob([bytes], { type }), width: 3, height: 2 })

describe('a picture that comes into the log', () => {
  test('is kept as what it says it is, without metadata, with the facts of what is kept', async () => {
    const { facts, bytes } = await from(png, 'image/png')
    expect(facts).toEqual({
      type: 'image/png',
      width: 3,
      height: 2,
      bytes: png.length - 12 - 5,
      crc32: crc32(bytes),
    })
    expect(bytes).toHaveLength(facts.bytes)
    expect((await from(jpegWithMetadata(), 'image/jpeg')).facts.type).toBe('image/jpeg')
  })

  test('is refused with the reason', async () => {
    const why = async (bytes: Uint8Array<ArrayBuffer>, type: string) => failureOf(from(bytes, type))
    const refused = (detail: string) => ({ code: 'not a picture', detail })
    expect(await why(png, 'image/gif')).toEqual(refused('type image/gif'))
    expect(await why(png, '')).toEqual(refused('type unknown'))
    expect(await why(png, 'image/jpeg')).toEqual(refused('no image/jpeg'))
    expect(await why(new Uint8Array(4_000_001), 'image/png')).toEqual(refused('4000001 bytes'))
    expect(await why(new Uint8Array(4_000_000), 'image/png')).toEqual(refused('no image/png'))
  })

  test('is told from another by its length and check sum', async () => {
    const { facts, bytes } = await from(png, 'image/png')
    expect(isPictureOf(facts, bytes)).toBe(true)
    expect(isPictureOf(facts, bytes.slice(1))).toBe(false)
    expect(isPictureOf({ ...facts, bytes: facts.bytes + 1 }, bytes)).toBe(false)
    expect(isPictureOf(facts, bytes.with(20, 9))).toBe(false)
  })
})
