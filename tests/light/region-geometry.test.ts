import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { Region } from '../../src/light/image.ts'
import {
  CORNERS,
  centreAt,
  dragCorner,
  keepInside,
  middleRegion,
  moveBy,
  SMALLEST_REGION,
  scaleBy,
  viewOfRegion,
  wholeView,
  zoomView,
} from '../../src/light/region-geometry.ts'

const PHOTO = { width: 400, height: 300 }
const region = (x: number, y: number, width: number, height: number): Region => ({
  shape: 'ellipse',
  x,
  y,
  width,
  height,
})

describe('a region', () => {
  test('is moved by so many pixels, and stops at each border of the photo', () => {
    const here = region(100, 80, 40, 30)
    expect(moveBy(here, 7, -5, PHOTO)).toEqual(region(107, 75, 40, 30))
    expect(moveBy(here, -500, -500, PHOTO)).toEqual(region(0, 0, 40, 30))
    expect(moveBy(here, 500, 500, PHOTO)).toEqual(region(360, 270, 40, 30))
  })

  test('is put about a point', () => {
    expect(centreAt(region(0, 0, 40, 30), 200, 150, PHOTO)).toEqual(region(180, 135, 40, 30))
  })

  test('grows and shrinks about its middle, to no less than what can be read', () => {
    expect(scaleBy(region(100, 80, 40, 20), 2, 3, PHOTO)).toEqual(region(80, 60, 80, 60))
    const least = scaleBy(region(100, 80, 40, 20), 0.001, 0.001, PHOTO)
    expect([least.width, least.height]).toEqual([SMALLEST_REGION, SMALLEST_REGION])
  })

  test('that would be larger than the photo is the photo', () => {
    expect(keepInside(region(-20, -20, 1000, 1000), PHOTO)).toEqual(region(0, 0, 400, 300))
  })

  test.each([
    [[-1, -1], [90, 70], region(90, 70, 50, 40)],
    [[1, -1], [150, 70], region(100, 70, 50, 40)],
    [[1, 1], [150, 120], region(100, 80, 50, 40)],
    [[-1, 1], [90, 120], region(90, 80, 50, 40)],
  ] as const)('dragged by its corner %j keeps the opposite one', (corner, [x, y], expected) => {
    expect(dragCorner(region(100, 80, 40, 30), corner, x, y, PHOTO)).toEqual(expected)
  })

  test('whose corner is dragged beyond the opposite one is as small as can be, and stays there', () => {
    for (const corner of CORNERS) {
      const [sx, sy] = corner
      const fixed = [sx < 0 ? 140 : 100, sy < 0 ? 110 : 80]
      const far = [200 - 1000 * sx, 150 - 1000 * sy] as const
      const found = dragCorner(region(100, 80, 40, 30), corner, ...far, PHOTO)
      expect([found.width, found.height]).toEqual([SMALLEST_REGION, SMALLEST_REGION])
      expect([
        sx < 0 ? found.x + found.width : found.x,
        sy < 0 ? found.y + found.height : found.y,
      ]).toEqual(fixed)
    }
  })

  test('is first proposed in the middle, a sixth of the shorter side wide', () => {
    expect(middleRegion(PHOTO)).toEqual({
      shape: 'rectangle',
      x: 175,
      y: 125,
      width: 50,
      height: 50,
    })
  })
})

describe('a view', () => {
  test('shows the whole photo at first', () => {
    expect(wholeView(PHOTO)).toEqual({ x: 0, y: 0, ...PHOTO })
  })

  test('comes closer about a point, which stays where it is on the screen', () => {
    const near = zoomView(wholeView(PHOTO), 2, 100, 240, PHOTO)
    expect(near).toEqual({ x: 50, y: 120, width: 200, height: 150 })
    expect((100 - near.x) / near.width).toBeCloseTo(100 / 400, 12)
    expect((240 - near.y) / near.height).toBeCloseTo(240 / 300, 12)
  })

  test('goes no farther than the photo and no closer than 24 pixels of the longer side', () => {
    const near = zoomView(wholeView(PHOTO), 2, 100, 240, PHOTO)
    expect(zoomView(near, 0.01, 100, 240, PHOTO)).toEqual(wholeView(PHOTO))
    const closest = zoomView(wholeView(PHOTO), 1e6, 400, 300, PHOTO)
    expect(closest).toEqual({ x: 376, y: 282, width: 24, height: 18 })
    // A photo of fewer pixels is seen whole.
    const tiny = { width: 12, height: 20 }
    expect(zoomView(wholeView(tiny), 4, 6, 10, tiny)).toEqual(wholeView(tiny))
  })

  test('never leaves the photo, wherever it is zoomed', () => {
    const share = fc.double({ min: 0, max: 1, noNaN: true })
    const factor = fc.double({ min: 0.1, max: 20, noNaN: true })
    fc.assert(
      fc.property(fc.array(fc.tuple(factor, share, share), { maxLength: 5 }), (steps) => {
        let view = wholeView(PHOTO)
        for (const [by, u, v] of steps)
          view = zoomView(view, by, view.x + u * view.width, view.y + v * view.height, PHOTO)
        expect(view.x).toBeGreaterThanOrEqual(0)
        expect(view.y).toBeGreaterThanOrEqual(0)
        expect(view.x + view.width).toBeLessThanOrEqual(400 + 1e-9)
        expect(view.y + view.height).toBeLessThanOrEqual(300 + 1e-9)
        expect(view.width / view.height).toBeCloseTo(4 / 3, 9)
      }),
      { numRuns: 50 },
    )
  })

  test('of a region is three times as large as it, with it in the middle', () => {
    expect(viewOfRegion(region(180, 135, 40, 30), PHOTO)).toEqual({
      x: 140,
      y: 105,
      width: 120,
      height: 90,
    })
    // By the side that needs more.
    expect(viewOfRegion(region(198, 135, 4, 30), PHOTO).height).toBeCloseTo(90, 9)
    expect(viewOfRegion(region(0, 0, 40, 30), PHOTO)).toMatchObject({ x: 0, y: 0 })
    expect(viewOfRegion(region(0, 0, 400, 300), PHOTO)).toEqual(wholeView(PHOTO))
  })
})
