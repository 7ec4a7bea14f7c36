import { describe, expect, test } from 'vitest'
import { flatFieldOf } from '../../src/light/flat-field.ts'
import { CLIPPED } from '../../src/light/image.ts'
import { lensDifference } from '../../src/light/lens-shading.ts'
import type { LightMap } from '../../src/light/raw-pair/light-map.ts'
import { normal } from './pictures.ts'

const [WIDTH, HEIGHT] = [160, 120]

interface Sheet {
  /** ln(G/R) and ln(B/R) of the corner against the middle. */
  readonly green?: number
  readonly blue?: number
  /** ln(G/R) from the left edge to the right one: light of two colours. */
  readonly slope?: number
  readonly level?: number
  readonly clipped?: number
}

/** A white sheet behind a lens whose light falls off by the fourth power of the cosine, to 45 %. */
function sheet({ green = 0, blue = 0, slope = 0, level = 0.4, clipped = 0 }: Sheet): LightMap {
  const noise = normal(3)
  const light = new Float32Array(3 * WIDTH * HEIGHT)
  const flags = new Uint8Array(WIDTH * HEIGHT)
  const half = Math.hypot(WIDTH, HEIGHT) / 2
  for (let at = 0; at < WIDTH * HEIGHT; at++) {
    const x = (at % WIDTH) + 0.5 - WIDTH / 2
    const y = Math.floor(at / WIDTH) + 0.5 - HEIGHT / 2
    const square = (x * x + y * y) / (half * half)
    const red = (level / (1 + 0.49 * square) ** 2) * (1 + 0.004 * noise())
    light[3 * at] = red
    light[3 * at + 1] = red * Math.exp(green * square + (slope * x) / WIDTH + 0.004 * noise())
    light[3 * at + 2] = red * Math.exp(blue * square + 0.004 * noise())
    if (at < clipped * WIDTH * HEIGHT) flags[at] = CLIPPED
  }
  return { width: WIDTH, height: HEIGHT, cell: 4, of: { width: 640, height: 480 }, light, flags }
}

const fieldOf = (of: Sheet, channels: 'camera' | 'display-p3' = 'camera') => {
  const result = flatFieldOf(sheet(of), channels)
  if (result.kind === 'refused') throw new Error(result.reason)
  return result.field
}

describe('a flat field', () => {
  test('finds what a lens does to the colour of its corners', () => {
    const field = fieldOf({ green: 0.05, blue: -0.03 })
    expect(field.green).toBeCloseTo(0.05, 3)
    expect(field.blue).toBeCloseTo(-0.03, 3)
    expect(field.uncertainty).toBeLessThan(0.002)
  })

  test('counts a slope across the picture as uncertain', () => {
    const { green, uncertainty } = fieldOf({ green: 0.05, slope: 0.04 })
    expect(green).toBeCloseTo(0.05, 3)
    // Half of it from the middle to an edge.
    expect(uncertainty).toBeGreaterThan(0.015)
    expect(uncertainty).toBeLessThan(0.025)
  })

  test('of an ordinary photo is known no better than the contrast of its tone curve', () => {
    expect(fieldOf({ green: 0.05 }, 'display-p3').uncertainty).toBeCloseTo(0.01, 3)
  })

  test('takes the lens out between card and glow', () => {
    const field = fieldOf({ green: 0.05 })
    const places = { glow: 0, card: 0.8, channels: 'camera' } as const
    const { green, uncertainty } = lensDifference(places, field)
    expect(green).toBeCloseTo(0.032, 3)
    expect(uncertainty).toBeLessThan(lensDifference(places, null).uncertainty / 10)
  })

  test.each([
    ['clipped', { clipped: 0.05 }],
    ['dark', { level: 0.02 }],
    ['not even', { slope: 0.3 }],
  ] as const)('is refused when the sheet is %s', (reason, of) => {
    expect(flatFieldOf(sheet(of), 'camera')).toEqual({ kind: 'refused', reason })
  })
})
