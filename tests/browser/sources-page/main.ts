/** The photo sources without the app around them, for browser tests: built like the app. */
import '../../../src/trusted-types.ts'
import { estimateGlow } from '../../../src/estimate/estimate-glow.ts'
import { balanceFromGrey } from '../../../src/light/grey-reference.ts'
import { openPicture } from '../../../src/sources/open-picture.ts'
import { BitmapPixels } from '../../../src/sources/photo/bitmap-pixels.ts'
import { openPhoto } from '../../../src/sources/photo/photo-client.ts'
import { loadPracticePhoto } from '../../../src/sources/practice/practice-photo.ts'

const sources = {
  BitmapPixels,
  openPhoto,
  openPicture,
  loadPracticePhoto,
  balanceFromGrey,
  estimateGlow,
}
export type Sources = typeof sources
Object.assign(globalThis, { sources })
