import { viewOf } from './bytes.ts'

export interface GifHeader {
  readonly width: number
  readonly height: number
  readonly animated: boolean
  readonly complete: boolean
}

/**
 * Reads the blocks of a GIF and counts its pictures up to two.
 *
 * @param bytes the whole file
 * Source: GIF89a specification, 17 to 27.
 */
export function readGifHeader(bytes: Uint8Array): GifHeader {
  const view = viewOf(bytes)
  const width = view.getUint16(6, true)
  const height = view.getUint16(8, true)
  const tableBytes = (flags: number) => (flags & 0x80 ? 3 << ((flags & 7) + 1) : 0)
  const afterSubBlocks = (from: number) => {
    let at = from
    while (view.getUint8(at) !== 0) at += 1 + view.getUint8(at)
    return at + 1
  }
  let pictures = 0
  let at = 13 + tableBytes(view.getUint8(10))
  try {
    while (pictures < 2) {
      const block = view.getUint8(at)
      if (block === 0x3b) return { width, height, animated: false, complete: true }
      if (block === 0x21) {
        at = afterSubBlocks(at + 2)
      } else if (block === 0x2c) {
        pictures += 1
        at = afterSubBlocks(at + 11 + tableBytes(view.getUint8(at + 9)))
      } else {
        break
      }
    }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
  }
  return { width, height, animated: pictures > 1, complete: false }
}
