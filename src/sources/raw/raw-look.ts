import { xyzFromXy } from '../../colour/chromaticity.ts'
import { encodeTransfer, P3_FROM_XYZ, WHITE_D65 } from '../../colour/rgb-spaces.ts'
import { CLIPPED, type LightImage, type StoredImage } from '../../light/image.ts'
import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  type Triple,
  transform,
} from '../../numerics/matrix3.ts'
import { quantile } from '../../numerics/statistics.ts'

/** Level that the bright end of a preview is brought to, and by how much it is lifted at most. */
const BRIGHT = 0.7
const MOST_GAIN = 8
/** Every how many pixels is looked at for it. */
const SAMPLED = 17
/** Highest level of what is not clipped: clipped pixels alone show the top code. */
const UNCLIPPED = 0.98

/**
 * Camera channels to linear Display P3 as a camera locked on daylight would deliver it: white
 * balance on D65 by the file's colour matrix, white kept white. For looking and for finding the
 * glow; nothing is measured in it. Without a matrix the channels are only balanced.
 */
export function lookMatrix(cameraToXyz: Matrix3 | null, neutral: Triple | null): Matrix3 {
  if (cameraToXyz === null) {
    const [r, g, b] = neutral ?? [1, 1, 1]
    return diagonal([1 / r, 1 / g, 1 / b])
  }
  const white = transform(invert(cameraToXyz), xyzFromXy(WHITE_D65))
  const top = Math.max(...white)
  const inverse: Triple = [top / white[0], top / white[1], top / white[2]]
  const toP3 = multiply(P3_FROM_XYZ, multiply(cameraToXyz, diagonal(white)))
  const row = (r: Triple): Triple => {
    const sum = r[0] + r[1] + r[2]
    return [r[0] / sum, r[1] / sum, r[2] / sum]
  }
  return multiply([row(toP3[0]), row(toP3[1]), row(toP3[2])], diagonal(inverse))
}

/** Gain that brings the brightest thousandth of a raw picture well into sight. */
export function lookGain(light: LightImage, look: Matrix3): number {
  const reds: number[] = []
  for (let i = 0; i < light.rgb.length; i += 3 * SAMPLED) reds.push(lookAt(light, i, look)[0])
  const bright = quantile(reds, 0.999)
  return bright > 0 ? Math.min(BRIGHT / bright, MOST_GAIN) : 1
}

/**
 * A raw picture as codes in Display P3. Clipped pixels stand at the top code in all channels; others
 * that would leave the range are darkened as a whole, so that they keep their colour.
 */
export function developed(light: LightImage, look: Matrix3, gain: number): StoredImage {
  const codes = new Float32Array(light.rgb.length)
  for (let i = 0, p = 0; i < codes.length; i += 3, p++) {
    if (light.flags[p]! & CLIPPED) {
      codes.fill(1, i, i + 3)
      continue
    }
    const rgb = lookAt(light, i, look)
    const scale = Math.min(gain, UNCLIPPED / Math.max(rgb[0], rgb[1], rgb[2], 1e-9))
    for (const c of [0, 1, 2] as const) codes[i + c] = encodeTransfer(Math.max(scale * rgb[c], 0))
  }
  return { width: light.width, height: light.height, space: 'display-p3', codes }
}

const lookAt = ({ rgb }: LightImage, i: number, look: Matrix3): Triple =>
  transform(look, [rgb[i]!, rgb[i + 1]!, rgb[i + 2]!])
