import { describe, expect, test } from 'vitest'
import {
  CLIPPED,
  FLOOR,
  FLOOR_BLUE,
  FLOOR_GREEN,
  type LightImage,
  type Region,
} from '../../src/light/image.ts'
import { type GlowFinding, measureGlow } from '../../src/light/measure-glow.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

const SIZE = 120
/** 2000 pixels: a share of a hundredth is 20 of them. */
const REGION: Region = { shape: 'rectangle', x: 35, y: 40, width: 50, height: 40 }
const GLOW: Triple = [0.5, 0.05, 0.005]
const DARK: Triple = [0, 0, 0]
const inBar = (x: number, y: number) => x >= 30 && x < 90 && y >= 35 && y < 85

/** A bar in the dark, without noise; `flag` by the number of the pixel in the region. */
function seen(
  colour: (x: number, y: number) => Triple,
  flag: (index: number) => number = () => 0,
): LightImage {
  const rgb = new Float32Array(3 * SIZE * SIZE)
  const flags = new Uint8Array(SIZE * SIZE)
  for (let y = 0; y < SIZE; y++)
    for (let x = 0; x < SIZE; x++) {
      const at = y * SIZE + x
      rgb.set(colour(x, y), 3 * at)
      const [column, row] = [x - REGION.x, y - REGION.y]
      if (column >= 0 && column < 50 && row >= 0 && row < 40) flags[at] = flag(50 * row + column)
    }
  return { width: SIZE, height: SIZE, channels: 'camera', rgb, flags }
}
const bar =
  (glow: Triple, background: Triple = DARK) =>
  (x: number, y: number) =>
    inBar(x, y) ? glow : background

const measured = (image: LightImage, region = REGION) =>
  measureGlow(image, region, { chromaSubsampled: false })
function told(image: LightImage, region?: Region): (readonly [string, string])[] {
  const all: readonly GlowFinding[] = measured(image, region).findings
  return all.map(({ code, weight }) => [code, weight])
}

describe('the limits of a region', () => {
  test('a bar in the dark has none of them', () => {
    expect(told(seen(bar(GLOW)))).toEqual([])
  })

  test('a pixel in a hundred may be clipped, not one more', () => {
    const clipped = (pixels: number) =>
      told(seen(bar(GLOW), (index) => (index < pixels ? CLIPPED : 0)))
    expect(clipped(0)).toEqual([])
    expect(clipped(1)).toEqual([['some clipped', 'note']])
    expect(clipped(20)).toEqual([['some clipped', 'note']])
    expect(clipped(21)).toEqual([['clipped', 'refusal']])
    const { findings } = measured(seen(bar(GLOW), (index) => (index < 15 ? CLIPPED : 0)))
    expect(findings[0]?.values).toEqual({ share: 15 / 2000 })
  })

  test('sixteen pixels are a region, fifteen are none', () => {
    const of = (width: number, height: number) =>
      told(seen(bar(GLOW)), { ...REGION, width, height })
    expect(of(4, 4).filter(([, weight]) => weight === 'refusal')).toEqual([])
    expect(of(5, 3)).toEqual([['too small', 'refusal']])
  })

  test('linear red down to 0.002 is light', () => {
    const of = (red: number) => told(seen(bar([red, red / 10, red / 100])))
    expect(of(0.0021)).toEqual([])
    expect(of(0.0019)).toEqual([['dark', 'refusal']])
  })

  test('as much green as red is no glow of metal', () => {
    const of = (green: number) => told(seen(bar([0.5, green, 0.01])))
    expect(of(0.49)).toEqual([])
    expect(of(0.5)).toEqual([['not redder than green', 'warning']])
  })

  test('green and blue at the floor count from one pixel in twenty on', () => {
    const of = (pixels: number, channel: number) =>
      told(seen(bar(GLOW), (index) => (index < pixels ? FLOOR | channel : 0)))
    expect(of(100, FLOOR_GREEN)).toEqual([])
    expect(of(101, FLOOR_GREEN)).toEqual([['green at floor', 'warning']])
    expect(of(100, FLOOR_BLUE)).toEqual([])
    expect(of(101, FLOOR_BLUE)).toEqual([['blue at floor', 'note']])
  })

  test('background counts from 3 % of the glow on, in red or in green', () => {
    const of = (background: Triple) => told(seen(bar(GLOW, background)))
    expect(of([0.014, 0, 0])).toEqual([])
    expect(of([0.0152, 0, 0])).toEqual([['background', 'warning']])
    expect(of([0, 0.0014, 0])).toEqual([])
    expect(of([0, 0.00152, 0])).toEqual([['background', 'warning']])
    expect(measured(seen(bar(GLOW, [0.0152, 0, 0]))).quality.backgroundShare).toBeCloseTo(
      0.0152 / (0.5 - 0.0152),
      6,
    )
  })

  test('colour that spreads by more than 0.05 in ln(G/R) is uneven', () => {
    /** Halves of the region apart by twice so much. */
    const of = (half: number) =>
      told(
        seen((x, y) => (inBar(x, y) ? [0.5, 0.05 * Math.exp(x < 60 ? half : -half), 0.005] : DARK)),
        { ...REGION, x: 48, y: 48, width: 24, height: 24 },
      )
    expect(of(0.045)).toEqual([])
    expect(of(0.051)).toEqual([['uneven', 'warning']])
  })
})
