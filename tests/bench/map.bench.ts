import { readdirSync, readFileSync } from 'node:fs'
import { setFlagsFromString } from 'node:v8'
import { runInNewContext } from 'node:vm'
import { gzipSync } from 'node:zlib'
import type { createLiveMap as CreateLiveMap } from '../../src/session/live/live-map.ts'
import { importBundled } from './bundled.ts'
import { type Bench, median } from './figure.ts'

const [WIDTH, HEIGHT] = [1280, 720]

/** The script of a live map's frame, its memory, and the weight of the code of maps. */
export const bench: Bench = async ({ short }) => {
  const { createLiveMap } = await importBundled<{ createLiveMap: typeof CreateLiveMap }>(
    'src/session/live/live-map.ts',
  )
  setFlagsFromString('--expose_gc')
  const gc = runInNewContext('gc') as () => void
  const bytes = glowFrame()
  const planes = [
    { offset: 0, stride: WIDTH },
    { offset: WIDTH * HEIGHT, stride: WIDTH / 2 },
    { offset: 1.25 * WIDTH * HEIGHT, stride: WIDTH / 2 },
  ]
  const colour = { matrix: 'bt709', fullRange: false }
  const pixels = { format: 'I420', width: WIDTH, height: HEIGHT, bytes, planes, colour } as const
  let frame = () => {}
  let reading = (_: unknown) => {}
  let mapped = () => {}
  const model = {
    held: { peek: () => false },
    pause: { peek: () => false },
    region: { peek: () => ({ shape: 'rectangle', x: 560, y: 320, width: 86, height: 86 }) },
    onReading: (listener: typeof reading) => {
      reading = listener
      return () => undefined
    },
    camera: {
      frame: () => ({ width: WIDTH, height: HEIGHT, copy: async () => pixels, close: () => {} }),
      onFrame: (listener: () => void) => {
        frame = listener
        return () => undefined
      },
    },
  }
  const shades = new Uint8Array(3 * 256)
  // The scale is worked out in a worker: another core's time.
  const scale = {
    temperatureK: 1200,
    at: { lnRatio: -2.2, lnRed: -1 },
    byRatio: { x: [-2.4, -2.2, -2], overK: [-70, 0, 66], leaningK: [-5, 0, 5] },
    byLevel: { x: [-2, -1, 0], overK: [-3, 0, 3], leaningK: [-2, 0, 2] },
  }
  const scaleBench = { scale: async () => scale, close: () => {} }
  const map = createLiveMap(
    model as unknown as Parameters<typeof CreateLiveMap>[0],
    () => mapped(),
    () => scaleBench as unknown as ReturnType<NonNullable<Parameters<typeof CreateLiveMap>[2]>>,
  )
  const estimate = { kind: 'temperature', temperatureK: 1200, expandedUncertaintyK: 40 }
  const input = { glow: { mean: [0.4, 0.04, 0.004] } }
  reading({ line: { estimate, slopeK: 340, lnRatio: -2.2, input }, anchor: -2.2, plain: -2.2 })
  const cellCount = 320 * 180
  const rgba = new Uint8ClampedArray(4 * cellCount)
  const frameMs: number[] = []
  const run = () =>
    new Promise<void>((resolve) => {
      let began = 0
      mapped = () => {
        map.paint(rgba, shades)
        frameMs.push(performance.now() - began)
        resolve()
      }
      frame()
      // The copy is the browser's; script begins when it is there.
      began = performance.now()
    })
  for (let i = 0; i < 50; i++) await run()
  frameMs.length = 0
  gc()
  const before = process.memoryUsage().heapUsed
  const frames = short ? 200 : 2000
  const cpu = process.cpuUsage()
  for (let i = 0; i < frames; i++) await run()
  const { user, system } = process.cpuUsage(cpu)
  gc()
  const growth = process.memoryUsage().heapUsed - before
  map.dispose()
  return [
    {
      name: 'live map: cells',
      value: map.cells.columns * map.cells.rows,
      unit: '',
      target: { atLeast: cellCount },
    },
    {
      name: 'live map: processor time a frame',
      value: (user + system) / 1000 / frames,
      unit: 'ms',
      timed: true,
      target: { atMost: 12 },
    },
    {
      name: 'live map: script a frame, by the clock',
      value: median(frameMs),
      unit: 'ms',
      timed: true,
      target: { atMost: 12 },
    },
    {
      name: `live map: heap growth over ${frames} frames`,
      value: growth / 1e6,
      unit: 'MB',
      target: { atMost: 1 },
    },
    {
      name: 'map: code on demand, gzip',
      value: weight(/^(map-|heat-map|live-map)/) / 1000,
      unit: 'kB',
      target: { atMost: 25 },
    },
  ]
}

/** A bar that glows over a third of the picture, in the codes of a camera. */
function glowFrame(): Uint8Array {
  const bytes = new Uint8Array(1.5 * WIDTH * HEIGHT)
  for (let y = 0; y < HEIGHT; y++)
    for (let x = 0; x < WIDTH; x++) {
      const inside = x > 200 && x < 1080 && y > 180 && y < 540
      bytes[y * WIDTH + x] = inside ? 95 + ((x * 7 + y * 3) % 4) : 17
    }
  const chroma = (WIDTH / 2) * (HEIGHT / 2)
  bytes.fill(100, WIDTH * HEIGHT, WIDTH * HEIGHT + chroma)
  bytes.fill(190, WIDTH * HEIGHT + chroma)
  return bytes
}

/** Compressed bytes of the built app's scripts and styles of these names. */
function weight(names: RegExp): number {
  return readdirSync('dist/assets')
    .filter((name) => names.test(name) && !name.includes('worker'))
    .reduce((sum, name) => sum + gzipSync(readFileSync(`dist/assets/${name}`)).length, 0)
}
