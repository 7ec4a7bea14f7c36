import type { Triple } from '../../../src/numerics/matrix3.ts'
import type { TimedFrame } from '../../../src/sources/video/read-frames.ts'
import { type Random, seeded } from '../../accuracy/random.ts'

export const [WIDTH, HEIGHT] = [240, 136]

export interface Film {
  readonly seconds: number
  readonly perSecond: number
  /** Codes 0..1 of the glow at a time; null where there is none. */
  readonly codes: (seconds: number) => Triple | null
  /** Code 0..1 of the dark ground, and of what strays over the glow. */
  readonly ground?: number
  /** How far the bar has moved to the right at a time, pixels. */
  readonly moved?: (seconds: number) => number
  /** Standard deviation of a pixel, codes of 255. */
  readonly noise?: number
  readonly random?: Random
}

/** Frames of a bar before a dark ground, RGBA as a canvas gives them. */
export async function* film({
  seconds,
  perSecond,
  codes,
  ground = 0.01,
  moved = () => 0,
  noise = 1,
  random = seeded(1),
}: Film): AsyncGenerator<TimedFrame & { closed: () => boolean }> {
  const ring = Float32Array.from({ length: 100_003 }, () => noise * random.normal())
  let at = 0
  for (let n = 0; n < seconds * perSecond; n++) {
    const t = n / perSecond
    const glow = codes(t)
    const shift = moved(t)
    // Rounds and keeps within 0 to 255 by itself, and fast: a film is most of what its test costs.
    const bytes = new Uint8ClampedArray(4 * WIDTH * HEIGHT).fill(255)
    for (let y = 0, i = 0; y < HEIGHT; y++) {
      for (let x = 0; x < WIDTH; x++, i += 4) {
        const inside = glow !== null && Math.abs(x - 100 - shift) < 50 && Math.abs(y - 68) < 18
        for (let c = 0; c < 3; c++) {
          if (++at === ring.length) at = 0
          bytes[i + c] = 255 * (inside ? glow[c]! : ground) + ring[at]!
        }
      }
    }
    let closed = false
    yield {
      seconds: t,
      closed: () => closed,
      frame: {
        width: WIDTH,
        height: HEIGHT,
        async copy({ left, top, right, bottom }) {
          const [width, height] = [right - left, bottom - top]
          const part = new Uint8Array(4 * width * height)
          for (let y = 0; y < height; y++) {
            const from = 4 * ((top + y) * WIDTH + left)
            part.set(bytes.subarray(from, from + 4 * width), 4 * y * width)
          }
          const planes = [{ offset: 0, stride: 4 * width }]
          const colour = { matrix: 'rgb', fullRange: true }
          return { format: 'RGBA', width, height, bytes: part, planes, colour }
        },
        close() {
          closed = true
        },
      },
    }
  }
}
