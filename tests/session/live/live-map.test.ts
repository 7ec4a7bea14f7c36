import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import type { FramePixels } from '../../../src/light/live/frame-codes.ts'
import { createLiveMap } from '../../../src/session/live/live-map.ts'
import type { MapBench } from '../../../src/sources/map/map-client.ts'
import { seeded } from '../../accuracy/random.ts'

const [WIDTH, HEIGHT] = [320, 180]
const BAR = { left: 40, right: 280, top: 40, bottom: 140 }
/** Kelvin over ln(G/R), of the line and of the scale alike. */
const SLOPE_K = 340
/** Green over red in linear sRGB, at the sight and from its middle on. */
const [GREEN, HOTTER] = [0.06, 0.07]

function frame(green: (x: number) => number): FramePixels {
  const bytes = new Uint8Array(4 * WIDTH * HEIGHT)
  for (let y = 0, i = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++, i += 4) {
      if (x < BAR.left || x >= BAR.right || y < BAR.top || y >= BAR.bottom) continue
      bytes[i] = Math.round(255 * encodeTransfer(0.5))
      bytes[i + 1] = Math.round(255 * encodeTransfer(0.5 * green(x)))
    }
  const planes = [{ offset: 0, stride: 4 * WIDTH }]
  const colour = { matrix: 'rgb', fullRange: true }
  return { format: 'RGBA', width: WIDTH, height: HEIGHT, bytes, planes, colour }
}

/** The right half is hotter. */
const FRAME = frame((x) => (x < WIDTH / 2 ? GREEN : HOTTER))

/** A live map of made frames, with the sight on the left half of the bar. */
function mapping(shown = [FRAME], place = { x: 220, y: 90 }) {
  const ended: string[] = []
  let copied = 0
  let tellFrame = () => {}
  let tellReading = (_: unknown) => {}
  const model = {
    held: signal(false),
    pause: signal(false),
    region: signal({ shape: 'rectangle', x: 80, y: 70, width: 40, height: 40 }),
    onReading: (listener: typeof tellReading) => {
      tellReading = listener
      return () => ended.push('readings')
    },
    camera: {
      frame: () => ({
        width: WIDTH,
        height: HEIGHT,
        copy: async () => shown[copied++ % shown.length]!,
        close: () => {},
      }),
      onFrame: (listener: () => void) => {
        tellFrame = listener
        return () => ended.push('frames')
      },
    },
  }
  const bench = {
    scale: async ({ at }: { at: { lnRatio: number; lnRed: number } }) => ({
      temperatureK: 1200,
      commonK: 20,
      common95K: 40,
      at,
      byRatio: {
        x: [at.lnRatio - 0.5, at.lnRatio, at.lnRatio + 0.5],
        overK: [-SLOPE_K / 2, 0, SLOPE_K / 2],
        leaningK: [-17, 0, 17],
      },
      byLevel: null,
    }),
    close: () => ended.push('scale'),
  } as unknown as MapBench
  let done = () => {}
  const map = createLiveMap(
    model as unknown as Parameters<typeof createLiveMap>[0],
    () => done(),
    () => bench,
  )
  const estimate = { kind: 'temperature', temperatureK: 1200, expandedUncertaintyK: 40 }
  // A grey card counts: what the line stands at is far from what the cells show.
  const line = {
    estimate,
    slopeK: SLOPE_K,
    lnRatio: -1.4,
    input: { glow: { mean: [0.4, 0.1, 0.01] } },
  }
  tellReading({ line, anchor: -1.4, plain: -1.4 + 10 / SLOPE_K })
  map.place.value = place
  return {
    map,
    model,
    ended,
    copied: () => copied,
    tellReading: (of: unknown) => tellReading(of),
    tellFrame: () => tellFrame(),
    async frames(count: number) {
      for (let i = 0; i < count; i++) {
        const made = new Promise<void>((resolve) => {
          done = resolve
        })
        tellFrame()
        await made
      }
      return map
    },
  }
}
const mapped = (frames: number, ...made: Parameters<typeof mapping>) =>
  mapping(...made).frames(frames)

test('the sight has the temperature of the figure, and a place is read against it', async () => {
  const map = await mapped(11)
  const { cells, scale, reading } = map
  const place = reading.value
  if (place?.kind !== 'read') throw new Error('not read')
  // The figure has moved by 10 K since its estimate; codes of 8 bits, and linear P3 holds a little red in green.
  const cell = (x: number, y: number) =>
    cells.lnRatio[Math.floor(y / cells.side) * cells.columns + Math.floor(x / cells.side)]!
  const apart = SLOPE_K * (cell(220, 90) - cell(100, 90))
  expect(apart).toBeGreaterThan(20)
  expect(place.overSightK).toBeCloseTo(apart, 0)
  expect(place.temperatureK).toBeCloseTo(1210 + apart, 0)
  // The scale leans by a tenth of the difference (17 K in 170 K); there is no noise.
  expect(place.overSightUncertaintyK).toBeCloseTo(apart / 10, 0)
  // The colours run from what is coldest to what is hottest; before the scale came they ran by Wien.
  expect(Math.abs(scale.value!.lowK - 1210)).toBeLessThan(2)
  expect(Math.abs(scale.value!.highK - 1210 - apart)).toBeLessThan(2)
  map.dispose()
})

test('an even bar lies in the middle of a scale of 12 K', async () => {
  const map = await mapped(6, [frame(() => GREEN)])
  const { lowK, highK, ownK } = map.scale.value!
  expect(ownK).toBeLessThan(0.1)
  expect([lowK, highK]).toEqual([expect.closeTo(1204, 1), expect.closeTo(1216, 1)])
  map.dispose()
})

test('the scale follows slowly what moves by little, and at once another height', async () => {
  const bars = (hotter: number) => frame((x) => (x < WIDTH / 2 ? GREEN : hotter))
  const shown = [bars(HOTTER)]
  const { map, frames } = mapping(shown)
  await frames(6)
  const first = map.scale.value!
  shown[0] = bars(1.05 * HOTTER)
  await frames(10)
  const moved = map.scale.value!.highK - first.highK
  // Twice a tenth of the way, of some 14 K: one code of 8 bits.
  expect(moved).toBeGreaterThan(1)
  expect(moved).toBeLessThan(4)
  shown[0] = bars(1.4 * HOTTER)
  await frames(10)
  expect(map.scale.value!.highK - first.highK).toBeGreaterThan(50)
  map.dispose()
})

test('before the scale is worked out a place has no figure, because its uncertainty is not known', async () => {
  const map = await mapped(1)
  expect(map.reading.value).toEqual({ kind: 'not yet' })
  map.dispose()
})

test('lines run over larger cells: means where half was read, nothing beside the bar', async () => {
  const map = await mapped(6)
  const { columns, rows, side, temperatureK } = map.scale.value!.coarse
  expect([columns, rows, side]).toEqual([40, 22, 8])
  const at = (x: number, y: number) =>
    temperatureK[Math.floor(y / side) * columns + Math.floor(x / side)]!
  expect(at(100, 90)).toBeCloseTo(1210, 0)
  expect(at(20, 20)).toBeNaN()
  expect(map.scale.value!.uneven).toBe(true)
  map.dispose()
})

test('in an even bar noise draws no lines', async () => {
  const random = seeded(3)
  const noisy = () => frame(() => GREEN * (1 + 0.05 * random.normal()))
  const map = await mapped(6, [noisy(), noisy(), noisy()])
  expect(map.scale.value!.ownK).toBeGreaterThan(1)
  expect(map.scale.value!.uneven).toBe(false)
  map.dispose()
})

test('is painted over the picture: what is hotter in another shade, the dark clear', async () => {
  const map = await mapped(6)
  const { cells, scale } = map
  const shades = Uint8Array.from({ length: 3 * 256 }, (_, i) => {
    const shade = Math.floor(i / 3)
    return [shade, 255 - shade, shade >> 1][i % 3]!
  })
  const rgba = new Uint8ClampedArray(4 * cells.state.length)
  map.paint(rgba, shades)
  const at = (x: number, y: number) =>
    4 * (Math.floor(y / cells.side) * cells.columns + Math.floor(x / cells.side))
  const [dark, cool, hot] = [at(10, 10), at(100, 90), at(220, 90)]
  expect([...rgba.subarray(dark, dark + 4)]).toEqual([0, 0, 0, 0])
  expect([rgba[cool + 3], rgba[hot + 3]]).toEqual([255, 255])
  expect(rgba[hot]!).toBeGreaterThan(rgba[cool]!)
  const shade = rgba[hot]!
  expect([...rgba.subarray(hot + 1, hot + 3)]).toEqual([255 - shade, shade >> 1])
  // The ends of the scale are the ends of the shades.
  const { lowK, highK } = scale.value!
  expect(rgba[cool]! / 255).toBeCloseTo((1210 - lowK) / (highK - lowK), 1)
  map.dispose()
})

test('a place beside the glow has no figure, one beside the picture nothing', async () => {
  for (const [place, kind] of [
    [{ x: 10, y: 10 }, 'not read'],
    [{ x: 1, y: 90 }, 'not read'],
    [{ x: 220, y: 1 }, 'not read'],
    [{ x: 320, y: 90 }, undefined],
    [{ x: 220, y: 180 }, undefined],
    [{ x: -1, y: 90 }, undefined],
    [{ x: 400, y: 90 }, undefined],
    [{ x: 220, y: -4 }, undefined],
  ] as const) {
    const map = await mapped(6, [FRAME], place)
    expect(map.reading.value?.kind).toBe(kind)
    map.dispose()
  }
})

test('held or paused it stands still, and put away it lets go of all', async () => {
  const { map, model, copied, tellFrame, frames, ended } = mapping()
  await frames(1)
  for (const stand of [model.held, model.pause]) {
    stand.value = true
    tellFrame()
    expect(copied()).toBe(1)
    stand.value = false
  }
  await frames(1)
  expect(copied()).toBe(2)
  map.dispose()
  expect(ended.sort()).toEqual(['frames', 'readings', 'scale'])
  tellFrame()
  expect(copied()).toBe(2)
})

test('without a figure it shows none, and cells without one are clear', async () => {
  const { map, tellReading, frames } = mapping()
  await frames(6)
  expect(map.scale.value).not.toBeNull()
  tellReading({ trouble: 'clipped' })
  await frames(5)
  expect([map.scale.value, map.reading.value]).toEqual([null, null])
  const rgba = new Uint8ClampedArray(4 * map.cells.state.length).fill(9)
  map.paint(rgba, new Uint8Array(3 * 256).fill(200))
  expect(rgba.every((code) => code === 0)).toBe(true)
  map.dispose()
})
