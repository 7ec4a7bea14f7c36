import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import type { SweepFrame } from '../../../src/light/exposure-sweep/sweep-result.ts'
import type { Region, RgbSpace } from '../../../src/light/image.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { picture, type Scene } from '../pictures.ts'

export interface Tone {
  readonly kind: 'channel' | 'ratio'
  /** Linear light to what the nominal decoding makes of the code. */
  readonly bend: (light: number) => number
}

/** A power with a shoulder that starts at `knee` and closes on 1. */
export function toneOf(kind: Tone['kind'], contrast: number, knee: number): Tone {
  const bend = (light: number) => {
    const y = Math.max(light, 0) ** contrast
    return y <= knee ? y : knee + (1 - knee) * (1 - Math.exp(-(y - knee) / (1 - knee)))
  }
  return { kind, bend }
}

/** A power with a soft shoulder over the whole range: y (1 + s) / (1 + s y). */
export function softToneOf(kind: Tone['kind'], contrast: number, shoulder: number): Tone {
  const bend = (light: number) => {
    const y = Math.max(light, 0) ** contrast
    return (y * (1 + shoulder)) / (1 + shoulder * y)
  }
  return { kind, bend }
}

/** Codes 0..1 of linear light through a tone curve. */
export function rendered({ kind, bend }: Tone, light: Triple): Triple {
  const bent: Triple =
    kind === 'channel' ? [bend(light[0]), bend(light[1]), bend(light[2])] : scaled(bend, light)
  return [encodeTransfer(bent[0]), encodeTransfer(bent[1]), encodeTransfer(bent[2])]
}

function scaled(bend: Tone['bend'], light: Triple): Triple {
  const top = Math.max(...light, 1e-9)
  const factor = bend(top) / top
  return [
    Math.max(light[0], 0) * factor,
    Math.max(light[1], 0) * factor,
    Math.max(light[2], 0) * factor,
  ]
}

/** Linear light at which a tone curve gives a value. */
export function lightFor({ bend }: Tone, value: number): number {
  let [low, high] = [0, 8]
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2
    if (bend(middle) < value) low = middle
    else high = middle
  }
  return low
}

const [WIDTH, HEIGHT] = [116, 96]
export const BAR = { x: 28, y: 28, width: 60, height: 40 }
export const REGION: Region = { shape: 'rectangle', x: 34, y: 34, width: 48, height: 28 }
/** Eight stops down, the first exposure repeated last. */
export const STOPS = [0, -1, -2, -3, -4, -5, -6, -7, -8, 0]

export interface SweepScene {
  readonly tone: Tone
  /** Of the brightest frame, before the tone curve. */
  readonly light: Triple
  readonly stops?: readonly number[]
  /** Light of frame k over that of the first. */
  readonly fading?: (k: number) => Triple
  /** True over stated exposure of frame k. */
  readonly exposureError?: (k: number) => number
  readonly shift?: (k: number) => { dx: number; dy: number }
  /** Factor on the codes by place, frame's mean code in red. */
  readonly local?: (x: number, y: number, level: number) => number
  readonly black?: Triple
  readonly space?: RgbSpace
  readonly noise?: { shot: number; read: number }
  readonly ground?: Triple
  /** What white balance does to everything in frame k. */
  readonly gains?: (k: number) => Triple
}

/** Photos of a bar in a sweep; 8-bit codes, with noise, without JPEG. */
export function sweepOf({
  tone,
  light,
  stops = STOPS,
  fading = () => [1, 1, 1],
  exposureError = () => 1,
  shift = () => ({ dx: 0, dy: 0 }),
  local,
  black = [0, 0, 0],
  space = 'display-p3',
  noise = { shot: 0.015, read: 0.0004 },
  ground = [0, 0, 0],
  gains = () => [1, 1, 1],
}: SweepScene): SweepFrame[] {
  return stops.map((stop, k) => {
    const exposure = 2 ** stop * exposureError(k)
    const fade = fading(k)
    const gain = gains(k)
    const { dx, dy } = shift(k)
    const inBar = (x: number, y: number) =>
      x >= BAR.x + dx &&
      x < BAR.x + dx + BAR.width &&
      y >= BAR.y + dy &&
      y < BAR.y + dy + BAR.height
    const seen = ([r, g, b]: Triple): Triple => [
      exposure * r * gain[0] + black[0],
      exposure * g * gain[1] + black[1],
      exposure * b * gain[2] + black[2],
    ]
    const bar = seen([light[0] * fade[0], light[1] * fade[1], light[2] * fade[2]])
    const around = seen(ground)
    const scene: Scene = (x, y) => (inBar(x, y) ? bar : around)
    const level = tone.bend(exposure * light[0])
    const image = picture(WIDTH, HEIGHT, scene, {
      space,
      ...noise,
      seed: 100 + k,
      encode: (v) => rendered(tone, v),
    })
    const relativeExposure = 2 ** stop
    if (local === undefined) return { image, relativeExposure }
    const codes = image.codes.map((code, i) => {
      const p = Math.floor(i / 3)
      const factor = local(p % WIDTH, Math.floor(p / WIDTH), level)
      return factor === 1 ? code : Math.round(255 * code * factor) / 255
    })
    return { image: { ...image, codes }, relativeExposure }
  })
}
