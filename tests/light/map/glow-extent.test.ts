import { describe, expect, test } from 'vitest'
import type { LightImage, Region } from '../../../src/light/image.ts'
import { glowExtent } from '../../../src/light/map/glow-extent.ts'
import { offColour } from '../../../src/light/map/off-colour.ts'

const [WIDTH, HEIGHT] = [40, 30]
const image = (red: (x: number, y: number) => number): LightImage => ({
  width: WIDTH,
  height: HEIGHT,
  channels: 'display-p3',
  rgb: Float32Array.from({ length: 3 * WIDTH * HEIGHT }, (_, i) => {
    const at = Math.floor(i / 3)
    return i % 3 === 0 ? red(at % WIDTH, Math.floor(at / WIDTH)) : 0
  }),
  flags: new Uint8Array(WIDTH * HEIGHT),
})
const region: Region = { shape: 'rectangle', x: 15, y: 12, width: 4, height: 4 }
const inside = (x: number, y: number, [l, t, r, b]: readonly [number, number, number, number]) =>
  x >= l && x < r && y >= t && y < b

describe('how far a glow reaches', () => {
  test('to the box of what is connected with the region, not to a second piece', () => {
    const found = glowExtent(
      image((x, y) => {
        if (inside(x, y, [8, 10, 24, 20]) || inside(x, y, [20, 5, 22, 10])) return 0.5
        return inside(x, y, [30, 5, 35, 25]) ? 0.6 : 0
      }),
      region,
    )
    expect(found).toMatchObject({ left: 8, top: 5, right: 24, bottom: 20 })
  })

  test('down to a twenty-fifth of the region’s own red', () => {
    const reach = (share: number) =>
      glowExtent(
        image((x, y) =>
          inside(x, y, [15, 12, 19, 16]) ? 0.5 : inside(x, y, [10, 12, 30, 16]) ? 0.5 * share : 0,
        ),
        region,
      ).right
    expect(reach(0.045)).toBe(30)
    expect(reach(0.035)).toBe(19)
  })

  test('never into the dark, however dim the region is', () => {
    const faint = (beside: number) =>
      glowExtent(
        image((x, y) => (inside(x, y, [15, 12, 19, 16]) ? 0.004 : x < 30 ? beside : 0)),
        region,
      ).right
    expect(faint(0.0019)).toBe(19)
    expect(faint(0.0021)).toBe(30)
  })

  test('is the region itself where nothing glows', () => {
    expect(
      glowExtent(
        image(() => 0),
        region,
      ),
    ).toMatchObject({ left: 15, top: 12, right: 19, bottom: 16 })
  })
})

describe('cells with another light mixed in', () => {
  const lnRatio = Float32Array.from({ length: 60 }, (_, i) => -2 + i / 60)
  /** Blue of a body goes with its green. */
  const own = lnRatio.map((ln) => Math.exp(2 * ln))

  test('depart in blue from others of their green', () => {
    const blue = own.map((value, i) => (i === 20 || i === 41 ? value + 0.1 : value))
    expect(offColour(lnRatio, blue).sort((a, b) => a - b)).toEqual([20, 41])
    expect(offColour(lnRatio, own)).toEqual([])
  })

  test('by more than 0.04, whatever the scatter', () => {
    const flat = new Float32Array(60).fill(0.05)
    const of = (excess: number) =>
      offColour(
        lnRatio,
        flat.map((v, i) => (i === 30 ? v + excess : v)),
      )
    expect(of(0.039)).toEqual([])
    expect(of(0.041)).toEqual([30])
    expect(of(-0.041)).toEqual([30])
  })

  test('are not told of few cells, and not where a colour is missing', () => {
    const flat = (count: number) => {
      const values = new Float32Array(count).fill(0.05)
      values[3] = 0.5
      return offColour(lnRatio.slice(0, count), values)
    }
    expect(flat(23)).toEqual([])
    expect(flat(24)).toEqual([3])
    const blue = own.map((value, i) => (i === 20 ? Number.NaN : i === 41 ? value + 0.1 : value))
    const ratio = lnRatio.map((value, i) => (i === 41 ? Number.NaN : value))
    expect(offColour(ratio, blue)).toEqual([])
  })
})
