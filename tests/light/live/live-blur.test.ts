import { expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import type { FramePixels } from '../../../src/light/live/frame-codes.ts'
import { liveBlur } from '../../../src/light/live/live-blur.ts'
import { normalCdf } from '../../../src/numerics/heavy-tails.ts'

const [WIDTH, HEIGHT] = [320, 180]

/** A bar whose outline is blurred by a normal curve; red alone matters. */
function frameOf(sd: number): FramePixels {
  const bytes = new Uint8Array(4 * WIDTH * HEIGHT)
  const edge = (inside: number) => normalCdf(inside / sd)
  for (let y = 0, i = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++, i += 4) {
      const across = edge(x - 60) * edge(260 - x) * edge(y - 50) * edge(130 - y)
      bytes[i] = Math.round(255 * encodeTransfer(0.5 * across))
    }
  const planes = [{ offset: 0, stride: 4 * WIDTH }]
  const colour = { matrix: 'rgb', fullRange: true }
  return { format: 'RGBA', width: WIDTH, height: HEIGHT, bytes, planes, colour }
}

test.each([1.5, 3, 5])('a blur of %d pixels is found along outlines', (sd) => {
  // Differences over two pixels flatten a slope: by a sixth at 1.5 pixels, hardly at 5.
  expect(liveBlur(frameOf(sd)) / sd).toBeGreaterThan(0.95)
  expect(liveBlur(frameOf(sd)) / sd).toBeLessThan(1.2)
})

test('a frame without outlines tells no blur', () => {
  expect(liveBlur(frameOf(400))).toBeNaN()
})
