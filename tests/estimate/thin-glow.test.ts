import { expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { colour, reading, reference, seen } from './inputs.ts'

/** Across a bar of a width in pixels: its codes as luma and chroma (ITU-R BT.601), each smoothed. */
function smoothedBar(light: Triple, width: number, blur: number, sharpened: number): Triple {
  const [r, g, b] = light.map((v) => encodeTransfer(Math.max(v, 0)))
  const luma = 0.299 * r! + 0.587 * g! + 0.114 * b!
  const across = (value: number, x: number, sd: number) => {
    let [sum, all] = [0, 0]
    for (let d = -12; d <= 12; d++) {
      const weight = sd === 0 ? Number(d === 0) : Math.exp(-0.5 * (d / sd) ** 2)
      all += weight
      if (Math.abs(x + d) < width / 2) sum += weight * value
    }
    return sum / all
  }
  const mean = [0, 0, 0]
  let pixels = 0
  // The region is the middle 70 % of the bar.
  for (let x = 0.5 - width / 2; x < width / 2; x++) {
    if (Math.abs(x) > 0.35 * width) continue
    // An unsharp mask of one pixel.
    const sharp = (1 + sharpened) * luma - sharpened * across(luma, x, 1)
    const [cr, cb] = [across(r! - luma, x, blur), across(b! - luma, x, blur)]
    const codes = [sharp + cr, sharp - (0.299 * cr + 0.114 * cb) / 0.587, sharp + cb]
    for (const [c, code] of codes.entries()) mean[c]! += decodeTransfer(Math.max(code, 0))
    pixels++
  }
  return mean.map((v) => v / pixels) as unknown as Triple
}

test.each([
  ['chroma smoothed by 1.5 pixels', 1.5, 0],
  ['chroma smoothed by 2.5 pixels', 2.5, 0],
  ['edges sharpened by half', 0, 0.5],
] as const)('a thin bar beside salt, %s, is read within its interval', (_, blur, sharpened) => {
  const salt = reference(1073.6, 6, seen(1073.6))
  for (const width of [8, 12, 16, 24, 40, 80]) {
    const mean = smoothedBar(seen(1173).mean as Triple, width, blur, sharpened)
    const estimate = estimateGlow(
      reading(colour(mean[1] / mean[0], mean[2] / mean[0]), {
        faithfulColours: false,
        references: [salt],
        quality: {
          clippedShare: 0,
          floorShare: [0, 0, 0],
          backgroundShare: 0,
          glowWidthPixels: width,
          chromaSubsampled: false,
        },
      }),
    )
    if (estimate.kind !== 'temperature') throw new Error(estimate.kind)
    const [low, high] = estimate.interval95K
    expect(low).toBeLessThan(1173)
    expect(high).toBeGreaterThan(1173)
  }
})
