import { describe, expect, test } from 'vitest'
import type { LightImage, LinearColour, Region } from '../../src/light/image.ts'
import { measureUnevenness } from '../../src/light/unevenness.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { exact } from './cards.ts'
import { normal } from './pictures.ts'

const [WIDTH, HEIGHT] = [200, 120]
const REGION: Region = { shape: 'rectangle', x: 20, y: 10, width: 160, height: 80 }

/** ln(G/R) and ln R by place in the region, 0 to 1 across and down, with relative noise in each channel. */
function glow(of: (u: number, v: number) => readonly [number, number], noise = 0): LightImage {
  const draw = normal(31)
  const rgb = new Float32Array(3 * WIDTH * HEIGHT)
  for (let at = 0; at < WIDTH * HEIGHT; at++) {
    const u = ((at % WIDTH) + 0.5 - REGION.x) / REGION.width
    const v = (Math.floor(at / WIDTH) + 0.5 - REGION.y) / REGION.height
    const [ratio, red] = of(u, v)
    const light = Math.exp(red)
    rgb[3 * at] = light * (1 + noise * draw())
    rgb[3 * at + 1] = light * Math.exp(ratio) * (1 + noise * draw())
    rgb[3 * at + 2] = 0.02 * light
  }
  return {
    width: WIDTH,
    height: HEIGHT,
    channels: 'camera',
    rgb,
    flags: new Uint8Array(WIDTH * HEIGHT),
  }
}
const measured = (
  of: (u: number, v: number) => readonly [number, number],
  { noise = 0, region = REGION, background = null as LinearColour | null } = {},
) => measureUnevenness(glow(of, noise), region, background)

/** Standard deviation of the middles of n even parts of a unit length, n - 1 in the divisor over all. */
const spread = (n: number, all: number) =>
  Math.sqrt((((n * n - 1) / 12 / n ** 2) * all) / (all - 1))

describe('the parts of a region', () => {
  test('are eight along its longer side and as many along the other as keep them square', () => {
    const count = (width: number, height: number, shape: Region['shape'] = 'rectangle') =>
      measured(() => [-2, -1], { region: { shape, x: 20, y: 10, width, height } }).parts
    expect([count(160, 80), count(80, 80), count(40, 80), count(160, 20)]).toEqual([32, 64, 32, 8])
    // No smaller than six pixels: 30 x 12 are 5 by 2.
    expect(count(30, 12)).toBe(10)
    // A side of 1.8 parts is two of them, one of 1.7 a single one.
    expect([count(160, 36), count(160, 34)]).toEqual([16, 8])
    // Of an ellipse those whose middles lie well inside.
    expect(count(80, 80, 'ellipse')).toBe(44)
  })

  test('spread as the colour and the level of the glow do', () => {
    const { lnGreenOverRedSd, hottest, coolest } = measured((u) => [-2 + 0.2 * u, -1])
    // Eight across, four down.
    expect(Math.abs(lnGreenOverRedSd / (0.2 * spread(8, 32)) - 1)).toBeLessThan(0.01)
    expect(measured((_, v) => [-2, -1 + 0.3 * v]).lnRedSd / (0.3 * spread(4, 32))).toBeCloseTo(1, 2)
    // Hotter is greener: at the right; parts of 20 pixels.
    expect(hottest!.region).toMatchObject({ x: 160, width: 20, height: 20 })
    expect(coolest!.region).toMatchObject({ x: 20, width: 20, height: 20 })
    const ratio = ({ mean }: LinearColour) => Math.log(mean[1] / mean[0])
    expect(ratio(hottest!.colour)).toBeCloseTo(-2 + (0.2 * 7.5) / 8, 2)
    expect(ratio(coolest!.colour)).toBeCloseTo(-2 + (0.2 * 0.5) / 8, 2)
  })

  test('are counted without the light around them', () => {
    const veil: Triple = [0.02, 0.02, 0.02]
    const green = 0.04
    const { lnGreenOverRedSd, hottest } = measureUnevenness(
      glow((u) => [
        Math.log((green + veil[1]) / (0.4 + veil[0] + 0.1 * u)),
        Math.log(0.4 + veil[0] + 0.1 * u),
      ]),
      REGION,
      exact(veil),
    )
    // Green stands still and red rises: ln(G/R) falls by ln(0.5 / 0.4).
    expect(hottest!.region.x).toBe(20)
    expect(hottest!.colour.mean[1]).toBeCloseTo(green, 4)
    expect(lnGreenOverRedSd / (Math.log(1.25) * spread(8, 32))).toBeCloseTo(1, 1)
  })

  test('leave nothing to choose where there are fewer than four, or background outshines them', () => {
    const few = measured((u) => [-2 + u, -1], {
      region: { shape: 'rectangle', x: 20, y: 10, width: 18, height: 6 },
    })
    expect(few).toEqual({
      lnGreenOverRedSd: 0,
      lnRedSd: 0,
      hottest: null,
      coolest: null,
      parts: 3,
    })
    const four = measured((u) => [-2 + u, -1], {
      region: { shape: 'rectangle', x: 20, y: 10, width: 24, height: 6 },
    })
    expect([four.parts, four.hottest === null]).toEqual([4, false])
    expect(measured(() => [-2, -1], { background: exact([0.1, 0.1, 0.1]) }).parts).toBe(0)
    expect(measured(() => [-2, -1], { background: exact([0.4, 0.01, 0.01]) }).parts).toBe(0)
  })
})

describe('noise', () => {
  test('alone is no unevenness', () => {
    const { lnGreenOverRedSd } = measured(() => [-2, -1], { noise: 0.1 })
    expect(lnGreenOverRedSd).toBeLessThan(0.005)
  })

  test('is taken off what the parts spread by', () => {
    // Noise of JPEG's blocks of 16 pixels: 0.05 in ln(G/R).
    const draw = normal(8)
    const blocks = Array.from({ length: 13 * 8 }, () => 0.05 * draw())
    const noisy = (u: number, v: number) =>
      blocks[13 * Math.floor((v * 80) / 16) + Math.floor((u * 160) / 16)]!
    const { lnGreenOverRedSd } = measured((u, v) => [-2 + 0.2 * u + noisy(u, v), -1])
    expect(Math.abs(lnGreenOverRedSd / (0.2 * spread(8, 32)) - 1)).toBeLessThan(0.15)
  })

  test('of one part makes it no hottest one', () => {
    const of = (corner: number) => {
      const draw = normal(9)
      const part = (u: number, v: number) => {
        if (u < 1 / 8 && v > 3 / 4) return -1.75 + corner * draw()
        return u > 7 / 8 ? -1.8 : -2
      }
      return measured((u, v) => [part(u, v), -1]).hottest!.region.x
    }
    expect(of(0)).toBe(20)
    expect(of(0.2)).toBe(160)
  })
})
