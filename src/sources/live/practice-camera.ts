import { encodeTransfer, linearSrgbFromP3 } from '../../colour/rgb-spaces.ts'
import type { FramePixels } from '../../light/live/frame-codes.ts'
import { meanCamera } from '../../light/simulate/mean-camera.ts'
import { deliveredP3, glowSpectrum } from '../../light/simulate/simulated-camera.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import type { ControlName, ControlSettings, ControlValue, LiveCamera } from './live-camera.ts'

const WIDTH = 480
const HEIGHT = 270
const FRAME_MS = 50
/** Levels of glow cover between nothing and all of a pixel, and the level of the grey card. */
const LEVELS = 64
const ON_CARD = LEVELS + 1
/** Middle and reach of the temperature's drift, K, and its period, s. */
const MIDDLE_K = 1230
const DRIFT_K = 25
const PERIOD_S = 240
/** Noise in codes at mid level; an invented phone in the dark. */
const NOISE_CODES = 1.6
/** Linear red of the glow at exposure 1 and {@link MIDDLE_K}. */
const RED = 1
/** Daylight over the shop: linear light, white, at exposure 1. */
const STRAY = 0.0015
/** A grey card beside the bar under a daylight lamp of its own: linear light at exposure 1. */
const CARD = 0.3
/** Where it lies: shares of the picture's width and height. */
export const PRACTICE_CARD = { left: 0.875, top: 0.66, right: 0.985, bottom: 0.93 } as const
/** Exposure time in units of 100 µs, as the Image Capture specification counts. */
const EXPOSURE = { min: 1, max: 400 } as const
const FULL = 200

/**
 * The camera's own tone curve on top of the standard transfer function, each channel by itself:
 * some more contrast in the darks and a shoulder.
 *
 * @param linear 0..1 and above
 */
export function practiceTone(linear: number): number {
  const light = Math.max(linear, 0) ** 1.12
  return light < 0.5 ? light : Math.min(1, 0.5 + 0.5 * Math.tanh((light - 0.5) / 0.5) * 1.14)
}

/** Code 0..1 of linear light by the practice camera. */
export const practiceCode = (linear: number): number =>
  Math.min(1, Math.max(0, encodeTransfer(practiceTone(linear))))

/** Linear sRGB of the simulated glow at exposure 1, without stray light. */
export function practiceGlow(temperatureK: number): Triple {
  const camera = meanCamera('daylight')
  const unit = RED / linearSrgbFromP3(deliveredP3(camera, glowSpectrum(MIDDLE_K)))[0]
  const [r, g, b] = linearSrgbFromP3(deliveredP3(camera, glowSpectrum(temperatureK)))
  return [r * unit, g * unit, b * unit]
}

interface Bench {
  /** Seconds since any beginning; by default the browser's clock. */
  readonly seconds?: () => number
}

/**
 * The practice bench: an invented bar glows in a dark shop, its temperature drifts slowly, and a grey
 * card lies beside it. Planck's law through the mean of measured cameras, exposure, the camera's tone curve, noise, stray light;
 * the same controls as a camera. Everything here is simulated and says so.
 */
export function openPracticeCamera({
  seconds = () => performance.now() / 1000,
}: Bench = {}): LiveCamera {
  const canvas = document.createElement('canvas')
  canvas.width = WIDTH
  canvas.height = HEIGHT
  const context = canvas.getContext('2d', { alpha: false, willReadFrequently: true })
  if (!context) throw new Error('no canvas for the practice bench')
  const image = context.createImageData(WIDTH, HEIGHT)
  const cover = scene()
  const noise = noiseRing()
  const settings: Record<string, ControlValue> = {
    exposureMode: 'continuous',
    exposureTime: FULL / 4,
    iso: 100,
    whiteBalanceMode: 'continuous',
    colorTemperature: 6500,
    focusMode: 'continuous',
    torch: false,
  }
  const listeners = new Set<() => void>()
  const began = seconds()
  let place = 0
  let temperatureK = MIDDLE_K

  const draw = () => {
    const t = seconds() - began
    temperatureK = MIDDLE_K + DRIFT_K * Math.sin((2 * Math.PI * t) / PERIOD_S)
    const exposure = (Number(settings.exposureTime) / FULL) * (Number(settings.iso) / 100)
    const glow = practiceGlow(temperatureK)
    const table = new Float32Array(3 * (LEVELS + 2))
    for (let k = 0; k <= LEVELS; k++)
      for (const c of [0, 1, 2] as const)
        table[3 * k + c] = 255 * practiceCode((glow[c] * (k / LEVELS) + STRAY) * exposure)
    table.fill(255 * practiceCode(CARD * exposure), 3 * ON_CARD)
    const { data } = image
    place = (place + 7919) % noise.length
    for (let i = 0, at = place; i < cover.length; i++) {
      const k = 3 * cover[i]!
      if (at >= noise.length - 3) at = i % 5
      data[4 * i] = table[k]! + noise[at++]!
      data[4 * i + 1] = table[k + 1]! + noise[at++]!
      data[4 * i + 2] = table[k + 2]! + noise[at++]!
      data[4 * i + 3] = 255
    }
    context.putImageData(image, 0, 0)
    for (const tell of listeners) tell()
  }
  draw()
  const timer = setInterval(draw, FRAME_MS)

  return {
    kind: 'practice',
    id: 'practice bench (simulated)',
    picture: canvas,
    size: () => ({ width: WIDTH, height: HEIGHT }),
    capabilities: () => ({
      exposureMode: ['continuous', 'manual'],
      exposureTime: EXPOSURE,
      iso: { min: 100, max: 800 },
      whiteBalanceMode: ['continuous', 'manual'],
      colorTemperature: { min: 6500, max: 6501 },
      focusMode: ['continuous', 'manual'],
    }),
    settings: () => ({ ...settings }) as ControlSettings,
    async apply(name: ControlName, value) {
      if (!(name in settings)) throw new TypeError(`no control ${name}`)
      settings[name] = value
      draw()
    },
    frame: () => ({
      width: WIDTH,
      height: HEIGHT,
      async copy({ left, top, right, bottom }): Promise<FramePixels> {
        const [width, height] = [right - left, bottom - top]
        const bytes = new Uint8Array(4 * width * height)
        for (let y = 0; y < height; y++) {
          const from = 4 * ((top + y) * WIDTH + left)
          bytes.set(image.data.subarray(from, from + 4 * width), 4 * y * width)
        }
        const planes = [{ offset: 0, stride: 4 * width }]
        const colour = { matrix: 'rgb', fullRange: true }
        return { format: 'RGBA', width, height, bytes, planes, colour }
      },
      close: () => undefined,
    }),
    onFrame(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    onEnd: () => () => undefined,
    onPause: () => () => undefined,
    truthK: () => temperatureK,
    verify: async () => true,
    close: () => clearInterval(timer),
  }
}

/** A flat bar with soft edges in the middle of the picture, a card in a corner: levels of pixels. */
function scene(): Uint8Array {
  const cover = new Uint8Array(WIDTH * HEIGHT)
  for (let y = 0, i = 0; y < HEIGHT; y++) {
    for (let x = 0; x < WIDTH; x++, i++) {
      const [dx, dy] = [Math.abs(x - 0.46 * WIDTH) - 130, Math.abs(y - 0.5 * HEIGHT) - 38]
      const outside = Math.hypot(Math.max(dx, 0), Math.max(dy, 0)) + Math.min(Math.max(dx, dy), 0)
      const [u, v] = [x / WIDTH, y / HEIGHT]
      const { left, top, right, bottom } = PRACTICE_CARD
      const onCard = u >= left && u < right && v >= top && v < bottom
      cover[i] = onCard ? ON_CARD : LEVELS * Math.min(Math.max(0.5 - outside / 3, 0), 1)
    }
  }
  return cover
}

/** Normal noise in codes (Box & Muller 1958), enough of it not to be seen to repeat. */
function noiseRing(): Float32Array {
  return Float32Array.from(
    { length: 400_009 },
    () =>
      NOISE_CODES *
      Math.sqrt(-2 * Math.log(1 - Math.random())) *
      Math.cos(2 * Math.PI * Math.random()),
  )
}
