import { signal } from '@preact/signals'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { temperatureDifference } from '../../../src/estimate/difference.ts'
import { estimateGlow } from '../../../src/estimate/estimate-glow.ts'
import { liveLine } from '../../../src/estimate/live/live-line.ts'
import { standingLine } from '../../../src/estimate/live/standing-line.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import type { StoredCamera } from '../../../src/session/kit/stored-items.ts'
import { createLiveDesk } from '../../../src/session/live/live-desk.ts'
import { createLiveModel } from '../../../src/session/live/live-model.ts'
import type { LiveCamera } from '../../../src/sources/live/live-camera.ts'
import { look } from '../../../src/sources/live/look.ts'
import { practiceGlow } from '../../../src/sources/live/practice-camera.ts'
import { type Made, madeControls } from '../../sources/live/made-camera.ts'

/** What the made camera sees at one moment. */
export interface Scene {
  readonly temperatureK: number
  /** Gains of white balance on R, G, B of everything. */
  readonly gains: Triple
  readonly width: number
  readonly height: number
}

const SCENE: Scene = { temperatureK: 1273, gains: [1, 1, 1], width: 320, height: 180 }
/** Linear light of walls and of the grey card, white lit by daylight. */
const WALL = 0.01
const CARD = 0.2
/** Where the card lies in a frame of 320x180. */
export const CARD_REGION = { shape: 'rectangle', x: 266, y: 126, width: 28, height: 28 } as const

/** sRGB codes of linear light behind white balance, 0..255. */
const codesOf = (linear: Triple, gains: Triple) =>
  linear.map((v, c) =>
    Math.round(255 * encodeTransfer(Math.min(1, Math.max(0, v * gains[c]!)))),
  ) as unknown as Triple

/** A frame of walls, a glowing bar in the middle, a card in the lower right; noise-free. */
function framePixels({ temperatureK, gains, width, height }: Scene): Uint8Array {
  const bytes = new Uint8Array(4 * width * height).fill(255)
  const glow = codesOf(practiceGlow(temperatureK).map((v) => 0.25 * v) as unknown as Triple, gains)
  const [wall, card] = [codesOf([WALL, WALL, WALL], gains), codesOf([CARD, CARD, CARD], gains)]
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 4) {
      const onBar = Math.abs(x - width / 2) < 40 && Math.abs(y - height / 2) < 24
      const onCard = x >= width - 60 && x < width - 20 && y >= height - 60 && y < height - 20
      const [r, g, b] = onBar ? glow : onCard ? card : wall
      bytes[i] = r
      bytes[i + 1] = g
      bytes[i + 2] = b
    }
  }
  return bytes
}

/** A stream made up for the test with its live model: frames come when the test says so. */
export function madeStream({
  made = { offers: {} },
  frameMs = 40,
  cameras = [],
}: {
  made?: Made
  frameMs?: number
  /** Of the kit. */
  cameras?: readonly StoredCamera[]
} = {}) {
  const { controls, asked } = madeControls(made)
  const frameListeners = new Set<() => void>()
  const pauseListeners = new Set<(paused: boolean) => void>()
  let scene = SCENE
  let bytes = framePixels(scene)
  let nowMs = 0
  let open = 0
  let closed = false
  const camera: LiveCamera = {
    ...controls,
    kind: 'camera',
    id: 'made-up stream',
    picture: {} as HTMLCanvasElement,
    size: () => ({ width: scene.width, height: scene.height }),
    frame() {
      const { width, height } = scene
      const [of, stride] = [bytes, 4 * width]
      open++
      return {
        width,
        height,
        async copy({ left, top, right, bottom }) {
          const [w, h] = [right - left, bottom - top]
          const part = new Uint8Array(4 * w * h)
          for (let y = 0; y < h; y++) {
            const from = (top + y) * stride + 4 * left
            part.set(of.subarray(from, from + 4 * w), 4 * w * y)
          }
          return {
            format: 'RGBA',
            width: w,
            height: h,
            bytes: part,
            planes: [{ offset: 0, stride: 4 * w }],
            colour: { matrix: 'rgb', fullRange: true },
          }
        },
        close: () => void open--,
      }
    },
    onFrame(listener) {
      frameListeners.add(listener)
      return () => frameListeners.delete(listener)
    },
    onEnd: () => () => undefined,
    onPause(listener) {
      pauseListeners.add(listener)
      return () => pauseListeners.delete(listener)
    },
    truthK: () => null,
    verify: async () => true,
    close: () => {
      closed = true
    },
  }
  const lineOf = standingLine(liveLine)
  let broken = false
  const model = createLiveModel(
    camera,
    { references: signal([]), curves: signal([]), cameras: signal(cameras) },
    createLiveDesk(),
    {
      nowMs: () => nowMs,
      bench: {
        look: async (input) => {
          if (broken) throw new Error('out of memory')
          return look(input, lineOf)
        },
        estimate: async (input) => estimateGlow(input),
        difference: async ({ first, second }) => temperatureDifference(first, second),
        sweep: () => Promise.reject(new Error('no sweep here')),
        check: () => Promise.reject(new Error('no check here')),
        close: () => undefined,
      },
    },
  )
  return {
    model,
    camera,
    asked,
    show(next: Partial<Scene>) {
      scene = { ...scene, ...next }
      bytes = framePixels(scene)
    },
    /** Delivers frames, one every `frameMs`, and lets each be read. */
    async frames(count: number, each: (index: number) => void = () => undefined) {
      for (let i = 0; i < count; i++) {
        nowMs += frameMs
        each(i)
        for (const tell of frameListeners) tell()
        await new Promise((done) => setImmediate(done))
      }
    },
    /** What looks at whole frames fails, or works again. */
    breakLooks(is: boolean) {
      broken = is
    },
    pass(ms: number) {
      nowMs += ms
    },
    mute(paused: boolean) {
      for (const tell of pauseListeners) tell(paused)
    },
    openFrames: () => open,
    listeners: () => frameListeners.size + pauseListeners.size,
    isClosed: () => closed,
  }
}
