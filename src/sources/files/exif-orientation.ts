import { viewOf } from './bytes.ts'

/** How the stored picture is to be turned for looking at it; 1 is upright. */
export type Orientation = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8

/** An orientation and the byte of the EXIF block that holds it. */
export interface OrientationField {
  readonly orientation: Orientation
  readonly at: number
}

const ORIENTATION_TAG = 274

/**
 * The orientation field of an EXIF block (TIFF structure).
 *
 * @returns null where there is none, or where it makes no sense: then the picture is upright
 * Source: Exif 2.32, table 4.
 */
export function findOrientation(block: Uint8Array): OrientationField | null {
  const view = viewOf(block)
  try {
    const little = view.getUint8(0) === 0x49
    const directory = view.getUint32(4, little)
    const count = view.getUint16(directory, little)
    for (let i = 0; i < count; i++) {
      const entry = directory + 2 + 12 * i
      if (view.getUint16(entry, little) !== ORIENTATION_TAG) continue
      const value = view.getUint16(entry + 8, little)
      if (value < 1 || value > 8) return null
      return { orientation: value as Orientation, at: little ? entry + 8 : entry + 9 }
    }
  } catch (error) {
    if (!(error instanceof RangeError)) throw error
  }
  return null
}
