import { resolveObjectURL } from 'node:buffer'
import { vi } from 'vitest'
import { encodeTransfer, XYZ_FROM_P3 } from '../../src/colour/rgb-spaces.ts'
import { evenness } from '../../src/estimate/map/evenness.ts'
import { heatMap, measuredTemperatures } from '../../src/estimate/map/heat-map.ts'
import { linearityAt } from '../../src/estimate/map/level-of-colour.ts'
import { mapChange } from '../../src/estimate/map/map-change.ts'
import { clippingLevels } from '../../src/light/clipping-level.ts'
import { checkToneCurve } from '../../src/light/exposure-sweep/check-tone-curve.ts'
import { measureSweep } from '../../src/light/exposure-sweep/measure-sweep.ts'
import { findGlow } from '../../src/light/find-glow.ts'
import { lightMap } from '../../src/light/raw-pair/light-map.ts'
import { measurePair } from '../../src/light/raw-pair/measure-pair.ts'
import { pixelBox } from '../../src/light/region.ts'
import { ownLight } from '../../src/light/tone-response.ts'
import { NO_FACTS, type PhotoFacts } from '../../src/sources/files/photo-facts.ts'
import type { MapOperations } from '../../src/sources/map/map-operations.ts'
import { cellsInSource } from '../../src/sources/photo/cells-in-source.ts'
import { photoLight } from '../../src/sources/photo/light-source.ts'
import { measureGreyInSource, measureInSource } from '../../src/sources/photo/measure-crop.ts'
import type { PhotoInfo } from '../../src/sources/photo/photo.ts'
import type { PhotoOperations } from '../../src/sources/photo/photo-operations.ts'
import { type PixelSource, readCrop } from '../../src/sources/photo/pixel-source.ts'
import type { SweepOperations } from '../../src/sources/sweep/sweep-operations.ts'
import type { Answers } from '../../src/sources/worker-answers.ts'
import type { Answer, Call } from '../../src/sources/worker-calls.ts'
import { seen } from '../estimate/inputs.ts'
import { madeSource } from '../sources/photo/made-source.ts'

/**
 * What is to be seen in a made-up photo: a bar at heat in a dark room, beside it a grey card or not; or
 * a card that fills the picture. The file holds this as text, so that it survives a draft.
 */
export interface MadeScene {
  /** Of the bar; null: none. */
  readonly temperatureK?: number | null
  /** Brighter by so many stops than a bar whose red is half of what the picture holds. */
  readonly stops?: number
  readonly card?: 'beside the bar' | 'fills the picture'
  /** Green of the card over its red; 1 for a balance that stands. */
  readonly cardGreen?: number
  readonly facts?: Partial<PhotoFacts>
  /** Draws the noise. */
  readonly seed?: number
}

export const PHONE = { make: 'Made-up', model: 'phone', lens: 'wide' } as const
export const [WIDTH, HEIGHT] = [160, 120]
export const BAR = { shape: 'rectangle', x: 60, y: 45, width: 60, height: 30 } as const
export const CARD = { shape: 'rectangle', x: 8, y: 8, width: 40, height: 30 } as const

export const madePhoto = (scene: MadeScene, name = 'glow.jpg') =>
  new File([JSON.stringify(scene)], name, { type: 'image/jpeg' })

/** From just below clipping to where red reads what green read in the brightest. */
const SWEEP_STOPS = [0.8, 0, -1, -2, -3, -4]

/** Exposures of one scene, with what each let in as the camera's record. */
export const madeSweep = (scene: MadeScene = {}, stops: readonly number[] = SWEEP_STOPS) =>
  stops.map((stop, i) =>
    madePhoto(
      {
        ...scene,
        stops: stop,
        seed: i + 1,
        facts: { ...PHONE, exposureSeconds: 2 ** stop / 30, fNumber: 2, iso: 100, ...scene.facts },
      },
      `IMG_${i + 1}.jpg`,
    ),
  )

const inside = (of: typeof BAR | typeof CARD, x: number, y: number) =>
  x >= of.x && x < of.x + of.width && y >= of.y && y < of.y + of.height

/** Each picture is opened several times: looked at, then measured. */
const drawn = new Map<string, Uint8ClampedArray<ArrayBuffer>>()
function codesOf(text: string): Uint8ClampedArray<ArrayBuffer> {
  const codes = drawn.get(text) ?? draw(JSON.parse(text))
  drawn.set(text, codes)
  return codes
}

/** Codes in Display P3, three a pixel. */
function draw({ temperatureK = 1200, stops = 0, card, cardGreen = 1, seed = 1 }: MadeScene) {
  const scale = 2 ** stops
  const glow = temperatureK === null ? null : seen(temperatureK).mean
  const light = (x: number, y: number): readonly number[] => {
    if (card === 'fills the picture') return [0.4, 0.4, 0.4]
    if (card && inside(CARD, x, y)) return [0.4 * scale, 0.4 * scale * cardGreen, 0.4 * scale]
    if (!glow || !inside(BAR, x, y)) return [0, 0, 0]
    // Darker to its ends by a little, as a bar is.
    const level = scale * (1 - 0.2 * Math.abs((x - BAR.x) / BAR.width - 0.5))
    return glow.map((channel) => channel * level)
  }
  const codes = new Uint8ClampedArray(3 * WIDTH * HEIGHT)
  let state = seed
  const random = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 4294967296 - 0.5
  }
  for (let i = 0; i < codes.length; i++) {
    const pixel = Math.floor(i / 3)
    const linear = light(pixel % WIDTH, Math.floor(pixel / WIDTH))[i % 3]!
    codes[i] = 255 * encodeTransfer(Math.min(linear, 1)) + 3 * random()
  }
  return codes
}

function sourceOf(text: string): PixelSource {
  const codes = codesOf(text)
  return madeSource(WIDTH, HEIGHT, (x, y) => {
    const at = 3 * (y * WIDTH + x)
    return [codes[at]!, codes[at + 1]!, codes[at + 2]!]
  })
}

/** What the worker of a photo answers, by the measurement of real ones; raw: in channels of a camera. */
function photoAnswers(raw: boolean): Answers<PhotoOperations> {
  let source: ReturnType<typeof sourceOf>
  let levels: ReturnType<typeof clippingLevels>
  const options = { chromaSubsampled: false, codingSteps: { luma: 1, chroma: 1 } }
  const whole = { left: 0, top: 0, right: WIDTH, bottom: HEIGHT }
  const boxOf = (region: Parameters<typeof pixelBox>[0]) => pixelBox(region, WIDTH, HEIGHT)
  return {
    async open(blob) {
      const text = await blob.text()
      const scene: MadeScene = JSON.parse(text)
      source = sourceOf(text)
      const { image } = await readCrop(source, whole, 1)
      levels = clippingLevels(image)
      const info: PhotoInfo = {
        kind: 'jpeg',
        width: WIDTH,
        height: HEIGHT,
        space: 'display-p3',
        channels: raw ? 'camera' : 'display-p3',
        cameraToXyz: raw ? XYZ_FROM_P3 : null,
        asShotNeutral: raw ? [1, 1, 1] : null,
        facts: { ...NO_FACTS, ...scene.facts },
        subsampling: '4:4:4',
        chromaSubsampled: false,
        codingSteps: options.codingSteps,
        notes: [],
        glow: findGlow(image),
      }
      return { preview: blob, info }
    },
    marks: async () => null,
    measure: ({ region, curve }) =>
      measureInSource(photoLight(source, levels, curve), region, options),
    cells: ({ region, curve, background }) =>
      cellsInSource(photoLight(source, levels, curve), region, { ...options, background }),
    measureGrey: ({ region, light }) =>
      measureGreyInSource(photoLight(source, levels), region, light),
    regionPicture: async () => {
      // The least that is a JPEG: one table, one scan.
      const bytes = Uint8Array.of(0xff, 0xd8, 0xff, 0xdb, 0, 2, 0xff, 0xda, 0, 2, 0xff, 0xd9)
      return { blob: new Blob([bytes], { type: 'image/jpeg' }), width: 1, height: 1 }
    },
    readStored: async (region) => (await readCrop(source, boxOf(region), 1)).image,
    readLight: async ({ region, curve }) =>
      (await photoLight(source, levels, curve).crop(boxOf(region), Number.POSITIVE_INFINITY)).light,
    lightMap: async () =>
      lightMap(source, async (top, bottom) =>
        ownLight((await readCrop(source, { ...whole, top, bottom }, 1)).image, levels),
      ),
  }
}

const sweepAnswers = (): Answers<SweepOperations> => ({
  measure: async ({ frames, region, steps, base, channelOdds }) =>
    measureSweep(frames, region, { base, channelOdds, ...(steps && { steps }) }),
  pair: async (pair) => measurePair(pair),
  check: async ({ curve, frames, region, steps }) =>
    checkToneCurve(curve, frames, region, steps ?? undefined),
})

/** Every cell counts as one of the place that is read. */
const mapAnswers = (): Answers<MapOperations> => ({
  change: async ({ earlier, later, readings }) => mapChange(earlier, later, readings),
  scale: async () => null,
  async map({ cells, input, estimate, curve }) {
    const map = heatMap(cells, input, estimate, linearityAt(input, curve), () => true)
    const single = input.linearity.kind === 'single'
    return map && { map, evenness: evenness(map, measuredTemperatures(map, cells), !single) }
  },
})

const answersOf = (worker: string) => {
  if (worker.includes('sweep.worker')) return sweepAnswers()
  if (worker.includes('map.worker')) return mapAnswers()
  return photoAnswers(worker.includes('raw.worker'))
}

/** Answers in this process. What cannot be read fails, as a worker that has died does. */
class MadeWorker {
  /** Of those that were begun, how many are open: each has to be ended. */
  static open = 0
  onmessage: ((event: { data: Answer }) => void) | null = null
  readonly #answers: Record<string, (input: never, progress: () => void) => Promise<unknown>>
  constructor(url: URL) {
    MadeWorker.open++
    this.#answers = answersOf(url.href)
  }
  async postMessage({ id, name, input }: Call) {
    const work = Promise.resolve().then(() => this.#answers[name]!(input as never, () => undefined))
    const data = await work.then(
      (output) => ({ id, output }),
      (error: unknown) => ({ id, failure: String(error) }),
    )
    this.onmessage?.({ data })
  }
  terminate() {
    MadeWorker.open--
    this.onmessage = null
  }
}

/** Of a browser, what a first look at a photo takes: an image, drawn on a canvas of few cells. */
class MadeImage {
  src = ''
  codes = new Uint8ClampedArray()
  async decode() {
    this.codes = codesOf((await resolveObjectURL(this.src)?.text()) ?? '')
  }
}
function madeCanvas() {
  let image = new MadeImage()
  return {
    width: 1,
    height: 1,
    getContext: () => ({
      drawImage: (drawn: MadeImage) => {
        image = drawn
      },
      getImageData(_x: number, _y: number, columns: number, rows: number) {
        const data = new Uint8ClampedArray(4 * columns * rows)
        for (let i = 0; i < columns * rows; i++) {
          const x = Math.floor((((i % columns) + 0.5) * WIDTH) / columns)
          const y = Math.floor(((Math.floor(i / columns) + 0.5) * HEIGHT) / rows)
          const at = 3 * (y * WIDTH + x)
          data.set(image.codes.subarray(at, at + 3), 4 * i)
        }
        return { data }
      },
    }),
  }
}

/** Workers that nobody has ended. */
export const openWorkers = () => MadeWorker.open

/** To be called before each test that opens a {@link madePhoto}. */
export function stubMadePhotos() {
  MadeWorker.open = 0
  vi.stubGlobal('Worker', MadeWorker)
  vi.stubGlobal('Image', MadeImage)
  vi.stubGlobal('document', { createElement: madeCanvas })
}
