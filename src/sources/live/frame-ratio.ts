import { linearP3FromSrgb } from '../../colour/rgb-spaces.ts'
import { type ToneCurve, toneBend } from '../../light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../light/image.ts'
import { evenBox, frameCodes } from '../../light/live/frame-codes.ts'
import { type FrameMean, frameMean } from '../../light/live/frame-mean.ts'
import { pixelBox } from '../../light/region.ts'
import type { Triple } from '../../numerics/matrix3.ts'
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

/** What the latest look says of every frame about it. */
export interface FrameBase {
  /** Mean linear light of the dark surroundings, nominal, in the stream's own space. */
  readonly background: Triple | null
  /** The stream's tone curve where it is known. */
  readonly recovered: ToneCurve | null
}

/**
 * A frame's mean with the tone curve undone and the surroundings taken off. As a glow fades they
 * become a larger part of what is seen: with them a body that cools can seem to warm.
 */
export function glowLight(linear: Triple, { background, recovered }: FrameBase): Triple {
  const [glow, dark] = [linear, background ?? [0, 0, 0]].map((of) =>
    undone(of as Triple, recovered),
  )
  return [0, 1, 2].map((c) => glow![c]! - dark![c]!) as unknown as Triple
}

/** A mean is bent as its pixels are: they differ little. */
function undone(linear: Triple, curve: ToneCurve | null): Triple {
  if (!curve) return linear
  const factor = (light: number) => (light > 0 ? Math.exp(toneBend(curve, Math.log(light))) : 1)
  if (curve.kind === 'channel')
    return linear.map((light) => light * factor(light)) as unknown as Triple
  const whole = factor(Math.max(...linear))
  return linear.map((light) => light * whole) as unknown as Triple
}
