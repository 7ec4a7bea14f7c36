import { expect, test } from 'vitest'
import { measureSweep } from '../../../src/light/exposure-sweep/measure-sweep.ts'
import { lightFromCode } from '../../../src/light/exposure-sweep/tone-curve.ts'
import type { Region, StoredImage } from '../../../src/light/image.ts'
import { sweepExposures } from '../../../src/light/live/longest-exposure.ts'
import { practiceCode, practiceGlow } from '../../../src/sources/live/practice-camera.ts'

/** Linear light of a code by turning the practice camera's own tone curve round. */
function trueLight(code: number): number {
  let [low, high] = [0, 4]
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (practiceCode(middle) < code) low = middle
    else high = middle
  }
  return low
}

/** A seeded generator (Numerical Recipes, 2nd ed., 7.1: ranqd1), sum of 12 for a normal value. */
function normalNoise(seed: number): () => number {
  let state = seed >>> 0
  const next = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32
  }
  return () => {
    let sum = -6
    for (let i = 0; i < 12; i++) sum += next()
    return sum
  }
}

test('a sweep as the live camera runs it recovers the tone curve of the practice bench', () => {
  const [width, height] = [160, 120]
  const region: Region = { shape: 'rectangle', x: 50, y: 45, width: 60, height: 30 }
  const glow = practiceGlow(1230)
  const noise = normalNoise(7)
  const frames = sweepExposures(0.4, [0.005, 2]).map((relativeExposure) => {
    const codes = new Float32Array(3 * width * height)
    for (let y = 0, i = 0; y < height; y++)
      for (let x = 0; x < width; x++, i += 3) {
        const onBar = x >= 40 && x < 120 && y >= 35 && y < 85
        for (const c of [0, 1, 2] as const) {
          const light = ((onBar ? glow[c] : 0) + 0.0015) * relativeExposure
          // Four averaged frames of whole codes, as live: noise of 1.6 codes halved.
          const code = 255 * practiceCode(light) + 0.8 * noise()
          codes[i + c] = Math.min(1, Math.max(0, Math.round(4 * code) / 4 / 255))
        }
      }
    const image: StoredImage = { width, height, space: 'srgb', codes }
    return { image, relativeExposure }
  })
  const result = measureSweep(frames, region, { steps: { luma: 1, chroma: 1 } })
  expect(result.kind).toBe('measured')
  if (result.kind !== 'measured') return
  const { curve } = result
  expect(curve.kind).toBe('channel')
  // Up to a common factor, over the codes that the sweep has seen.
  const off = [30, 45, 60, 80, 100, 130, 160, 190, 215, 235].map((code) =>
    Math.log(lightFromCode(curve, code / 255) / trueLight(code / 255)),
  )
  const middle = off.reduce((sum, v) => sum + v, 0) / off.length
  const largest = Math.max(...off.map((v) => Math.abs(v - middle)))
  console.log(`largest deviation of the recovered curve: ${(100 * largest).toFixed(1)} % of light`)
  expect(largest).toBeLessThan(0.01)
})
