import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import type { CodingSteps } from '../../src/light/exposure-sweep/frame-levels.ts'
import type { Region } from '../../src/light/image.ts'
import { measurePatch } from '../../src/light/patch.ts'
import { inRegion, pixelBox } from '../../src/light/region.ts'
import { storedLevels } from '../../src/light/stored-levels.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import { picture, uniform } from './pictures.ts'

const GLOW = [0.5, 0.05, 0.01] as const
const REGION: Region = { shape: 'rectangle', x: 20, y: 20, width: 160, height: 80 }
const light = (...args: Parameters<typeof picture>) => toLinearLight(picture(...args))

describe('a region is measured in linear light', () => {
  it('finds mean, scatter and counts of an even glow', () => {
    const patch = measurePatch(
      light(200, 120, () => GLOW, { shot: 0.02, read: 0.001 }),
      REGION,
    )
    expect(patch.refusal).toBeNull()
    expect(patch.pixels).toBe(160 * 80)
    for (const c of [0, 1, 2] as const) {
      const scatter = Math.hypot(0.02 * Math.sqrt(GLOW[c]), 0.001)
      const u = Math.sqrt(patch.colour.covariance[c][c])
      expect(Math.abs(patch.colour.mean[c] - GLOW[c])).toBeLessThan(4 * u)
      expect(patch.scatter[c]).toBeGreaterThan(0.9 * scatter)
      // Rounding to codes adds a little.
      expect(patch.scatter[c]).toBeLessThan(1.2 * scatter)
    }
  })

  it('states an uncertainty of the mean that its own errors bear out', () => {
    const scores: number[] = []
    for (let seed = 1; seed <= 60; seed++) {
      const patch = measurePatch(
        light(64, 64, () => GLOW, { shot: 0.03, seed }),
        { shape: 'rectangle', x: 4, y: 4, width: 56, height: 56 },
      )
      scores.push((patch.colour.mean[1] - GLOW[1]) / Math.sqrt(patch.colour.covariance[1][1]))
    }
    const rms = Math.sqrt(scores.reduce((s, z) => s + z * z, 0) / scores.length)
    // Independent pixels: the allowance for correlation makes it too wide, never too narrow.
    expect(rms).toBeLessThan(1)
    expect(rms).toBeGreaterThan(0.1)
  })

  it('states the steps of the file where they are known', () => {
    const image = light(200, 120, () => GLOW, { shot: 0.03 })
    const green = (steps: CodingSteps | null) =>
      Math.sqrt(measurePatch(image, REGION, steps).colour.covariance[1][1]) / GLOW[1]
    // One code at G = 0.05 (code 63) is 3.1 % of the light; noise dithers it (Widrow 1956).
    expect(green(null)).toBeGreaterThan(0.3 * 0.031)
    expect(green({ luma: 2, chroma: 2 })).toBeLessThan(0.2 * 0.031)
    expect(green({ luma: 6, chroma: 7 })).toBeGreaterThan(green({ luma: 2, chroma: 2 }))
  })

  it('is known to a step of whole codes, a rectangle of one code, where nothing else is known', () => {
    // JCGM 100, F.2.2.1: 0.29 of a step; a little more for what files do besides.
    const linear = decodeTransfer(120 / 255)
    const flat = measurePatch(
      light(200, 120, () => [linear, linear, linear]),
      REGION,
    )
    const code = decodeTransfer(120.5 / 255) - decodeTransfer(119.5 / 255)
    for (const c of [0, 1, 2] as const) {
      const steps = Math.sqrt(flat.colour.covariance[c][c]) / code
      expect(steps).toBeGreaterThan(0.289)
      expect(steps).toBeLessThan(0.315)
    }
  })

  it('is not moved by a scratch or a spark', () => {
    const clean = measurePatch(
      light(200, 120, () => GLOW),
      REGION,
    )
    const marked = measurePatch(
      light(200, 120, (x, y) =>
        x > 60 && x < 68 ? [0.05, 0.004, 0.001] : x + y === 150 ? [0.9, 0.6, 0.2] : GLOW,
      ),
      REGION,
    )
    for (const c of [0, 1] as const) {
      expect(Math.abs(marked.colour.mean[c] / clean.colour.mean[c] - 1)).toBeLessThan(0.01)
    }
    expect(marked.usedPixels).toBeLessThan(clean.usedPixels)
  })

  it('does not count a slow gradient as noise of the mean', () => {
    const slope = (x: number) => 0.3 + (0.4 * x) / 200
    const flat = measurePatch(
      light(200, 120, () => GLOW),
      REGION,
    )
    const sloped = measurePatch(
      light(200, 120, (x) => [slope(x), 0.1 * slope(x), 0.02 * slope(x)]),
      REGION,
    )
    expect(sloped.colour.covariance[0][0]).toBeLessThan(10 * flat.colour.covariance[0][0])
    // The spread over the region is 40 times wider than what is allowed here.
    expect(Math.sqrt(sloped.colour.covariance[0][0])).toBeLessThan(0.005)
  })

  it('keeps floor pixels in the mean: leaving them out would read green too high', () => {
    const dim = [0.1, 0.0004, 0.0001] as const
    const image = light(200, 120, () => dim, { shot: 0.002, read: 0.0002 })
    const patch = measurePatch(image, REGION)
    expect(patch.floorShare[1]).toBeGreaterThan(0.005)
    let [sum, n] = [0, 0]
    for (let y = 20; y < 100; y++) {
      for (let x = 20; x < 180; x++) {
        sum += image.rgb[3 * (y * 200 + x) + 1]!
        n++
      }
    }
    expect(patch.colour.mean[1]).toBeGreaterThan(0.95 * (sum / n))
    expect(patch.colour.mean[1]).toBeLessThan(1.05 * (sum / n))
  })
})

describe('clipping', () => {
  it('of more than one per cent gives no number', () => {
    const next = uniform(3)
    const patch = measurePatch(
      light(200, 120, () => (next() < 0.02 ? [1.2, 0.05, 0.01] : GLOW)),
      REGION,
    )
    expect(patch.clippedShare).toBeGreaterThan(0.01)
    expect(patch.refusal).toBe('clipped')
  })

  it('of a few sparks is left out block by block, and the mean stays', () => {
    const patch = measurePatch(
      light(200, 120, (x, y) => (x === 50 && y % 30 === 0 ? [1.5, 0.5, 0.2] : GLOW)),
      REGION,
    )
    expect(patch.refusal).toBeNull()
    expect(patch.clippedShare).toBeGreaterThan(0)
    expect(Math.abs(patch.colour.mean[0] / GLOW[0] - 1)).toBeLessThan(0.005)
  })

  it('of the noise alone hardly moves the mean of what is left', () => {
    // Red so near the top that its noise touches it in few pixels: dropping only those would do
    // no better, dropping blocks must do no worse.
    const red = 0.95
    const patch = measurePatch(
      light(200, 120, () => [red, 0.1, 0.02], { shot: 0.015 }),
      REGION,
    )
    expect(patch.clippedShare).toBeGreaterThan(0)
    if (patch.refusal === null) {
      expect(Math.abs(patch.colour.mean[0] / red - 1)).toBeLessThan(0.002)
    } else expect(patch.refusal).toBe('clipped')
  })
})

describe('regions', () => {
  it('say empty or too small rather than NaN', () => {
    const image = light(50, 50, () => GLOW)
    const outside = measurePatch(image, { shape: 'ellipse', x: 80, y: 0, width: 10, height: 10 })
    expect(outside.refusal).toBe('empty')
    const small = measurePatch(image, { shape: 'rectangle', x: 5, y: 5, width: 3, height: 3 })
    expect(small.refusal).toBe('too small')
    expect(small.pixels).toBe(9)
    for (const patch of [outside, small]) {
      expect(patch.colour.mean.every(Number.isFinite)).toBe(true)
      expect(patch.colour.covariance.flat().every(Number.isFinite)).toBe(true)
    }
  })

  it('hold about the pixels of their area, whatever their shape and place', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('rectangle' as const, 'ellipse' as const),
        fc.double({ min: 0, max: 30, noNaN: true }),
        fc.double({ min: 0, max: 30, noNaN: true }),
        fc.double({ min: 12, max: 60, noNaN: true }),
        fc.double({ min: 12, max: 60, noNaN: true }),
        (shape, x, y, width, height) => {
          const region: Region = { shape, x, y, width, height }
          const box = pixelBox(region, 100, 100)
          let n = 0
          for (let py = box.top; py < box.bottom; py++)
            for (let px = box.left; px < box.right; px++) if (inRegion(region, px, py)) n++
          const area = width * height * (shape === 'ellipse' ? Math.PI / 4 : 1)
          expect(Math.abs(n - area)).toBeLessThanOrEqual(width + height + 1)
        },
      ),
    )
  })

  it('give their mean stored codes', () => {
    const image = picture(60, 60, () => GLOW, { shot: 0, read: 0 })
    const levels = storedLevels(image, { shape: 'ellipse', x: 10, y: 10, width: 30, height: 30 })
    for (const c of [0, 1, 2] as const) {
      // To half a code.
      expect(Math.abs(levels[c] - encodeTransfer(GLOW[c]))).toBeLessThanOrEqual(0.5 / 255 + 1e-6)
    }
  })
})
