import { describe, expect, test } from 'vitest'
import {
  CLIPPED,
  FLOOR,
  FLOOR_GREEN,
  type LightImage,
  type Region,
} from '../../../src/light/image.ts'
import { codingError } from '../../../src/light/map/coding-error.ts'
import {
  CELL_STATES,
  type CellOptions,
  type CellState,
  type HeatCells,
  heatCells,
} from '../../../src/light/map/heat-cells.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'

const [WIDTH, HEIGHT] = [160, 100]
const MIDDLE: Region = { shape: 'rectangle', x: 70, y: 40, width: 20, height: 20 }
const GLOW: Triple = [0.5, 0.05, 0.006]
const OPTIONS: CellOptions = { chromaSubsampled: false, codingSteps: null, background: null }
const STEPS = { luma: 3, chroma: 4 }

type Scene = (x: number, y: number) => Triple
/** A sharp bar in the dark. */
const bar =
  (colour: Scene = () => GLOW, dark: Triple = [0, 0, 0]): Scene =>
  (x, y) =>
    x >= 20 && x < 140 && y >= 20 && y < 80 ? colour(x, y) : dark

function imageOf(
  scene: Scene,
  flag: (x: number, y: number) => number = () => 0,
  [width, height]: readonly [number, number] = [WIDTH, HEIGHT],
): LightImage {
  const rgb = new Float32Array(3 * width * height)
  const flags = new Uint8Array(width * height)
  for (let y = 0, p = 0; y < height; y++)
    for (let x = 0; x < width; x++, p++) {
      rgb.set(scene(x, y), 3 * p)
      flags[p] = flag(x, y)
    }
  return { width, height, channels: 'display-p3', rgb, flags }
}
const cellsOf = (
  image: LightImage,
  options: Partial<CellOptions> = {},
  region = MIDDLE,
  step = 1,
) => heatCells(image, region, { ...OPTIONS, ...options }, step)
const placeOf = ({ columns, side }: HeatCells, x: number, y: number) =>
  Math.floor(y / side) * columns + Math.floor(x / side)
const stateAt = (cells: HeatCells, x: number, y: number): CellState =>
  CELL_STATES[cells.state[placeOf(cells, x, y)]!]!

describe('cells over a picture', () => {
  test('are 2 pixels wide at least, and 240 along the longer side at most', () => {
    const side = (width: number, height: number) => {
      const { side, columns, rows } = cellsOf(imageOf(() => GLOW, undefined, [width, height]))
      return [side, columns, rows]
    }
    expect(side(160, 101)).toEqual([2, 80, 50])
    expect(side(480, 120)).toEqual([2, 240, 60])
    expect(side(120, 482)).toEqual([3, 40, 160])
  })

  test('hold the logarithm of the ratio and of red, their background taken off', () => {
    const veil: Triple = [0.02, 0.015, 0.01]
    const veiled = bar(() => [GLOW[0] + veil[0], GLOW[1] + veil[1], GLOW[2] + veil[2]], veil)
    const cells = cellsOf(imageOf(veiled), { background: veil })
    const at = placeOf(cells, 80, 50)
    expect(cells.lnRatio[at]).toBeCloseTo(Math.log(0.1), 4)
    expect(cells.lnRed[at]).toBeCloseTo(Math.log(0.5), 4)
  })

  test('count in pixels of the picture where each stands for several', () => {
    const [one, four] = [1, 4].map((step) => cellsOf(imageOf(bar()), {}, MIDDLE, step))
    expect(four!.side).toBe(4 * one!.side)
    expect(four!.blurPixels).toBeCloseTo(4 * one!.blurPixels, 6)
    // 16 pixels of the picture err as one.
    expect([one!.noiseReach, four!.noiseReach]).toEqual([8, 2])
  })
})

describe('what is read of a glow', () => {
  test('has three times the red of the background at least', () => {
    const of = (times: number) =>
      stateAt(
        cellsOf(imageOf(bar(() => [0.05 * times, 0.02, 0.006], [0.05, 0.005, 0.003])), {
          background: [0.05, 0.005, 0.003],
        }),
        80,
        50,
      )
    expect(of(4.2)).toBe('read')
    expect(of(3.8)).toBe('dark')
    expect(of(2.9)).toBe('not glow')
  })

  test('has a green of 0.0004 at least, over the background', () => {
    const of = (green: number) => stateAt(cellsOf(imageOf(bar(() => [0.05, green, 0]))), 80, 50)
    expect([0.00038, 0.00042].map(of)).toEqual(['dark', 'read'])
  })

  test('has green at the floor in a twentieth of its pixels at most, and none clipped', () => {
    // 482 pixels across make cells of 3 by 3, 1000 ones of 5 by 5.
    const of = (floor: number, flag: number) =>
      stateAt(
        cellsOf(
          imageOf(
            () => GLOW,
            (x, y) => (x % 5 < floor && y % 5 === 0 ? flag : 0),
            [1000, 60],
          ),
          {},
          { ...MIDDLE, y: 20 },
        ),
        500,
        30,
      )
    expect([0, 1, 2].map((floor) => of(floor, FLOOR | FLOOR_GREEN))).toEqual([
      'read',
      'read',
      'dark',
    ])
    expect([0, 1].map((clipped) => of(clipped, CLIPPED))).toEqual(['read', 'clipped'])
    expect(of(3, FLOOR)).toBe('read')
  })
})

test('has other light in it where blue is more than 0.04 of red above that of like cells, background off', () => {
  const background: Triple = [0.02, 0.01, 0.03]
  const of = (excess: number) =>
    stateAt(
      cellsOf(
        imageOf(
          bar(
            (x, y) => [
              GLOW[0] + background[0],
              GLOW[1] + background[1],
              GLOW[2] + background[2] + (Math.hypot(x - 80, y - 50) < 5 ? excess * GLOW[0] : 0),
            ],
            background,
          ),
        ),
        { background },
      ),
      80,
      50,
    )
  expect([0.037, 0.043].map(of)).toEqual(['read', 'off locus'])
})

describe('the margin along an outline', () => {
  test('is 2.4 standard deviations of the blur, and 1 pixel of colour, or 3 at half resolution', () => {
    const [whole, halved] = [false, true].map((chromaSubsampled) =>
      cellsOf(imageOf(bar()), { chromaSubsampled }),
    )
    const { blurPixels } = whole!
    // Differences over two pixels see a sharp edge as one of 0.8.
    expect(blurPixels).toBeCloseTo(0.8, 1)
    expect(whole!.marginPixels).toBeCloseTo(2.4 * blurPixels + 1, 4)
    expect(halved!.marginPixels).toBeCloseTo(2.4 * blurPixels + 3, 4)
    // Of a picture made four times smaller colour is a quarter as coarse.
    const small = cellsOf(imageOf(bar()), { chromaSubsampled: true }, MIDDLE, 4)
    expect(small.marginPixels).toBeCloseTo(4 * (2.4 * blurPixels + 3 / 4), 4)
  })

  test('leaves out cells of which any pixel lies in it', () => {
    const cells = cellsOf(imageOf(bar()), { chromaSubsampled: true })
    // Blurred by 0.8 pixels the outline lies 1.2 outside of the half level: 6.2 in all, from x = 19.
    for (const [x, y, state] of [
      [19, 50, 'not glow'],
      [20, 50, 'edge'],
      [25, 50, 'edge'],
      [28, 50, 'read'],
      [131, 50, 'read'],
      [139, 50, 'edge'],
      [140, 50, 'not glow'],
      [80, 20, 'edge'],
      [80, 28, 'read'],
      [80, 79, 'edge'],
      [80, 71, 'read'],
    ] as const)
      expect(stateAt(cells, x, y), `${x}, ${y}`).toBe(state)
    expect([...cells.lnRatio].map(Number.isNaN)).toEqual(
      [...cells.state].map((state) => CELL_STATES[state] !== 'read'),
    )
  })

  test('counts from the pixel of a cell that is nearest to the outline, on each side', () => {
    // One pixel further in than the cells: the seventh is deep enough, the sixth in its cell is not.
    const cells = cellsOf(
      imageOf((x, y) => (x >= 21 && x < 139 && y >= 21 && y < 79 ? GLOW : [0, 0, 0])),
      { chromaSubsampled: true },
    )
    const states = (places: readonly (readonly [number, number])[]) =>
      places.map(([x, y]) => stateAt(cells, x, y))
    const [inner, outer] = [
      [
        [28, 50],
        [131, 50],
        [80, 28],
        [80, 71],
      ],
      [
        [27, 50],
        [132, 50],
        [80, 27],
        [80, 72],
      ],
    ] as const
    expect(states(inner)).toEqual(['read', 'read', 'read', 'read'])
    expect(states(outer)).toEqual(['edge', 'edge', 'edge', 'edge'])
  })

  test('is none at the edge of the picture, where the glow goes on', () => {
    const cells = cellsOf(imageOf(() => GLOW))
    expect(cells.blurPixels).toBeNaN()
    expect([stateAt(cells, 0, 0), stateAt(cells, 159, 99)]).toEqual(['read', 'read'])
  })
})

describe('the steps of a file', () => {
  test('are stated for each cell by its colour, the light around it included', () => {
    const background: Triple = [0.02, 0.01, 0.005]
    const none = cellsOf(imageOf(bar()))
    const some = cellsOf(imageOf(bar()), { codingSteps: STEPS, background })
    const at = placeOf(none, 80, 50)
    expect([none.lnCoding[at], none.lnStep[at], none.blockPixels]).toEqual([0, 0, 0])
    expect(some.lnCoding[at]).toBeCloseTo(codingError(GLOW[0], GLOW[1], STEPS), 6)
    expect(some.lnStep[at]).toBeGreaterThan(0)
  })

  test('come in blocks of 8 pixels, of 16 where colour has half the resolution', () => {
    const of = (chromaSubsampled: boolean, codingSteps: CellOptions['codingSteps'] = STEPS) =>
      cellsOf(imageOf(bar()), { chromaSubsampled, codingSteps }).blockPixels
    expect([of(false), of(true), of(true, null)]).toEqual([8, 16, 0])
  })
})

describe('narrow parts', () => {
  /** A bar of so many pixels in height beside the whole one. */
  const withWire = (thick: number) =>
    cellsOf(
      imageOf((x, y) =>
        x >= 10 && x < 60 && y >= 20 && y < 80
          ? GLOW
          : x >= 60 && x < 150 && y >= 50 && y < 50 + thick
            ? GLOW
            : [0, 0, 0],
      ),
      { chromaSubsampled: true },
      { ...MIDDLE, x: 30 },
    )

  test('are thin along their middle where the margins of both sides meet', () => {
    const thin = withWire(8)
    expect(stateAt(thin, 100, 54)).toBe('thin')
    expect(stateAt(thin, 100, 51)).toBe('edge')
    expect(stateAt(thin, 30, 50)).toBe('read')
    // Margin and one cell, 8.2 pixels, over a depth of some 4.
    expect(thin.closer).toBeGreaterThan(1.7)
    expect(thin.closer).toBeLessThan(2.3)
    const wide = withWire(24)
    expect(stateAt(wide, 100, 62)).toBe('read')
    expect(wide.closer).toBe(1)
  })
})

test('the glow under the region alone is read, however near another lies', () => {
  const two: Scene = (x, y) =>
    y >= 20 && y < 80 && ((x >= 20 && x < 78) || (x >= 82 && x < 140)) ? GLOW : [0, 0, 0]
  const read = (x: number, width: number) => {
    const cells = cellsOf(imageOf(two), {}, { ...MIDDLE, x, width })
    return [stateAt(cells, 50, 50), stateAt(cells, 110, 50)]
  }
  expect(read(30, 40)).toEqual(['read', 'not glow'])
  expect(read(90, 30)).toEqual(['not glow', 'read'])
  expect(read(60, 40)).toEqual(['read', 'read'])
})
