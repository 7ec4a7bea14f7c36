import { encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import type { StoredImage } from '../../src/light/image.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

/** A generator of uniform numbers in 0..1 from a seed (xorshift32, Marsaglia 2003). */
export function uniform(seed: number): () => number {
  let state = (seed | 0) ^ 0x9e3779b9 || 1
  return () => {
    state ^= state << 13
    state ^= state >>> 17
    state ^= state << 5
    return (state >>> 0) / 2 ** 32
  }
}

/** Standard normal numbers (Box & Muller 1958). */
export function normal(seed: number): () => number {
  const next = uniform(seed)
  return () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())
}

/** Linear light at a pixel, in the picture's own space. */
export type Scene = (x: number, y: number) => Triple

/** What the file does to linear light: by default the nominal transfer function. */
export interface Rendering {
  readonly space?: StoredImage['space']
  /** Standard deviation of the noise, linear: shot noise at full scale, and read noise. */
  readonly shot?: number
  readonly read?: number
  readonly seed?: number
  /** Top code, 255 or below for a camera whose white is darker. */
  readonly white?: number
  readonly encode?: (linear: Triple) => Triple
}

/** A scene as an 8-bit picture. */
export function picture(
  width: number,
  height: number,
  scene: Scene,
  {
    space = 'display-p3',
    shot = 0.01,
    read = 0.0005,
    seed = 1,
    white = 255,
    encode = ([r, g, b]) => [encodeTransfer(r), encodeTransfer(g), encodeTransfer(b)],
  }: Rendering = {},
): StoredImage {
  const noise = normal(seed)
  const noisy = (v: number) => v + Math.sqrt(shot ** 2 * Math.max(v, 0) + read ** 2) * noise()
  const stored = (encoded: number) => Math.min(Math.max(Math.round(encoded * 255), 0), white) / 255
  const codes = new Float32Array(3 * width * height)
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 3) {
      const [r, g, b] = scene(x, y)
      const light: Triple = [noisy(r), noisy(g), noisy(b)]
      const encoded = encode(light)
      codes[i] = stored(encoded[0])
      codes[i + 1] = stored(encoded[1])
      codes[i + 2] = stored(encoded[2])
    }
  }
  return { width, height, space, codes }
}

/** A bar of one colour on a dark ground. */
export function barScene(
  glow: Triple,
  box: { x: number; y: number; width: number; height: number },
  ground: Triple = [0.0005, 0.0005, 0.0005],
): Scene {
  return (x, y) =>
    x >= box.x && x < box.x + box.width && y >= box.y && y < box.y + box.height ? glow : ground
}
