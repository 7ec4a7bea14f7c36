import { linearP3FromSrgb } from '../../colour/rgb-spaces.ts'
import type { Region } from '../../light/image.ts'
import { evenBox, frameCodes } from '../../light/live/frame-codes.ts'
import { type FrameMean, frameMean } from '../../light/live/frame-mean.ts'
import { pixelBox } from '../../light/region.ts'
import type { LiveFrame } from './live-frame.ts'

/** The mean over a region of one frame; null where nothing of it lies in the frame. */
export async function meanOf(frame: LiveFrame, region: Region): Promise<FrameMean | null> {
  const { width, height } = frame
  const box = evenBox(pixelBox(region, width, height), width, height)
  if (box.right <= box.left || box.bottom <= box.top) return null
  return frameMean(frameCodes(await frame.copy(box)))
}

/** ln(G/R) in linear P3; NaN without light in both. */
export function lnRatioOf(linear: FrameMean['linear']): number {
  const [r, g] = linearP3FromSrgb(linear)
  return r > 0 && g > 0 ? Math.log(g / r) : Number.NaN
}
