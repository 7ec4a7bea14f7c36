import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { findShift, LARGEST_SHIFT } from '../../../src/light/exposure-sweep/align.ts'
import type { Region } from '../../../src/light/image.ts'
import { picture, type Scene } from '../pictures.ts'

const REGION: Region = { shape: 'rectangle', x: 60, y: 50, width: 70, height: 40 }
/** A smooth blob and a corner: structure both ways, at fractions of a pixel. */
const scene =
  (dx: number, dy: number, exposure: number): Scene =>
  (x, y) => {
    const [u, v] = [(x - dx - 95) / 22, (y - dy - 70) / 14]
    const level = exposure * 0.8 * Math.exp(-(u * u + v * v))
    return [level, 0.1 * level, 0.02 * level]
  }
const shot = (dx: number, dy: number, exposure = 1, seed = 3) =>
  picture(190, 140, scene(dx, dy, exposure), { seed })

describe('displacement of frames', () => {
  it('is found to a fifth of a pixel, also four stops darker', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -12, max: 12, noNaN: true }),
        fc.double({ min: -12, max: 12, noNaN: true }),
        fc.constantFrom(1, 1 / 4, 1 / 16),
        (dx, dy, exposure) => {
          const found = findShift(shot(0, 0), shot(dx, dy, exposure, 9), REGION)!
          expect(Math.abs(found.dx - dx)).toBeLessThan(0.2)
          expect(Math.abs(found.dy - dy)).toBeLessThan(0.2)
          expect(found.correlation).toBeGreaterThan(0.95)
        },
      ),
      { numRuns: 15 },
    )
  })

  it('is the smallest one along a straight edge, where all fit', () => {
    const edge =
      (dy: number): Scene =>
      (_, y) =>
        y > 70 + dy ? [0.6, 0.06, 0.01] : [0, 0, 0]
    const found = findShift(picture(190, 140, edge(0)), picture(190, 140, edge(3)), REGION)!
    expect(Math.abs(found.dx)).toBeLessThan(0.5)
    expect(Math.abs(found.dy - 3)).toBeLessThan(0.2)
  })

  it('is not made up where there is nothing to see', () => {
    const even = picture(190, 140, () => [0.4, 0.04, 0.01])
    expect(findShift(even, even, REGION)).toBeNull()
    expect(findShift(shot(0, 0), shot(0, 0, 1 / 4000), REGION)).toBeNull()
  })

  it('shows another scene by its correlation or by its distance', () => {
    const other: Scene = (x, y) => {
      const level = 0.5 + 0.4 * Math.sin(x / 9) * Math.cos(y / 7)
      return [level, 0.1 * level, 0.02 * level]
    }
    const found = findShift(shot(0, 0), picture(190, 140, other), REGION)!
    expect(found.correlation < 0.9 || Math.hypot(found.dx, found.dy) >= LARGEST_SHIFT).toBe(true)
  })
})
