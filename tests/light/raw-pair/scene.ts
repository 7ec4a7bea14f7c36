/** One shot as a raw picture and as a photo: a bar that is hot in the middle, its glare, a dim room. */

import { daylightSpectrum } from '../../../src/colour/daylight.ts'
import { encodeTransfer, XYZ_FROM_P3 } from '../../../src/colour/rgb-spaces.ts'
import { CLIPPED, FLOOR, FLOOR_BLUE, FLOOR_GREEN, FLOOR_RED } from '../../../src/light/image.ts'
import { type LightMap, lightMap } from '../../../src/light/raw-pair/light-map.ts'
import { respond } from '../../../src/light/simulate/sensitivity.ts'
import { glowSpectrum, type SimulatedCamera } from '../../../src/light/simulate/simulated-camera.ts'
import { decodeCode } from '../../../src/light/tone-response.ts'
import { invert, type Triple, transform } from '../../../src/numerics/matrix3.ts'
import type { Random } from '../../accuracy/random.ts'
import { statedMatrix } from '../../accuracy/raw-path.ts'
import { type CameraCurve, throughCurve } from '../../accuracy/tone-curves.ts'
import { decodeJpeg } from '../../decode-jpeg.ts'
import { encodeJpeg } from '../../making/encode-jpeg.ts'
import { writeDng } from '../../making/write-dng.ts'
import { P3_COLORANTS, writeIccProfile } from '../../making/write-icc.ts'

export interface Shot {
  readonly width: number
  readonly height: number
  /** Camera channels of each pixel, a fraction of full scale, noise included. */
  readonly raw: Float32Array
  /** Codes 0..255 in Display P3. */
  readonly codes: Uint8Array
}

export interface SceneOptions {
  readonly camera: SimulatedCamera
  readonly curve: CameraCurve
  readonly hottestK: number
  readonly coolestK: number
  /** Daylight in the room, over the red of the glow. */
  readonly room: number
  readonly random: Random
  /** By how much the photo's colours are raised about the grey of the same lightness. */
  readonly saturation?: number
  readonly width?: number
  readonly height?: number
}

/** Highest raw channel of the glow, and the light of its red that the photo shows. */
const TOP = 0.7
const RED = 0.8
const ELECTRONS = 15_000
const READ_NOISE = 4

export function shoot(options: SceneOptions): Shot {
  const {
    camera,
    curve,
    hottestK,
    coolestK,
    room,
    random,
    saturation = 1.1,
    width = 640,
    height = 480,
  } = options
  const balanced = (t: number): Triple => respond(camera.sensitivity, glowSpectrum(t))
  const hottest = balanced(hottestK)
  const full = TOP / Math.max(...hottest)
  const levels = new Map<number, Triple>()
  const glowOf = (t: number) => {
    const key = Math.round(t)
    const found = levels.get(key) ?? balanced(key)
    levels.set(key, found)
    return found
  }
  const day = respond(camera.sensitivity, daylightSpectrum(6504))
  const ofDay = (room * hottest[0]) / day[0]
  const raw = new Float32Array(3 * width * height)
  const codes = new Uint8Array(3 * width * height)
  const { card, matrix } = camera
  const [, luminance] = XYZ_FROM_P3
  const p3 = (r: Triple): Triple => {
    const [red, green, blue] = transform(matrix, [r[0] / card[0], r[1] / card[1], r[2] / card[2]])
    const grey = luminance[0] * red + luminance[1] * green + luminance[2] * blue
    const raised = (v: number) => grey + saturation * (v - grey)
    return [raised(red), raised(green), raised(blue)]
  }
  const gain = RED / p3(hottest)[0] / full
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 3) {
      const u = (x + 0.5) / width - 0.5
      const v = ((y + 0.5) / height - 0.5) * (height / width)
      const along = Math.min(Math.abs(u) / 0.4, 1)
      const t = hottestK - (hottestK - coolestK) * along ** 2
      // A round bar, its edge two thousandths of the width wide.
      const edge =
        1 /
        (1 + Math.exp((Math.abs(v) - 0.1) / 0.002)) /
        (1 + Math.exp((Math.abs(u) - 0.4) / 0.002))
      const away = Math.hypot(Math.max(Math.abs(u) - 0.3, 0), Math.max(Math.abs(v) - 0.1, 0))
      const glare = 0.004 / (1 + (away / 0.05) ** 2)
      const here = glowOf(t)
      const grey = ofDay * (0.3 + 0.7 * ((Math.floor(8 * (u + 0.5)) % 4) / 3))
      const noisy = ([0, 1, 2] as const).map((c) => {
        const level = full * (edge * here[c] + glare * hottest[c] + (1 - edge) * grey * day[c])
        const electrons = level * ELECTRONS
        const sd = Math.sqrt(Math.max(electrons, 0) + READ_NOISE ** 2)
        return (electrons + sd * random.normal()) / ELECTRONS
      }) as unknown as Triple
      for (const c of [0, 1, 2] as const) raw[i + c] = Math.min(noisy[c], 1)
      const light = p3(noisy)
      const bent = throughCurve(curve, [gain * light[0], gain * light[1], gain * light[2]])
      for (const c of [0, 1, 2] as const) {
        codes[i + c] = Math.round(255 * Math.min(Math.max(encodeTransfer(bent[c]), 0), 1))
      }
    }
  }
  return { width, height, raw, codes }
}

/** How a photo differs from the picture that the sensor saw. */
export interface Finish {
  /** Size of the piece kept about the middle, pixels of the shot. */
  readonly width?: number
  readonly height?: number
  /** The lens's bulge taken out, share at the corner, and the picture enlarged after it. */
  readonly bulge?: number
  readonly enlarged?: number
}

/** The shot's photo, cut and corrected; between pixels of the shot straight. */
export function finished(shot: Shot, { bulge = 0, enlarged = 0, ...size }: Finish): Shot {
  const { width = shot.width, height = shot.height } = size
  const codes = new Uint8Array(3 * width * height)
  const [middleX, middleY] = [shot.width / 2, shot.height / 2]
  const corner = middleX ** 2 + middleY ** 2
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const u = (x + 0.5 - width / 2) * (1 - enlarged)
      const v = (y + 0.5 - height / 2) * (1 - enlarged)
      const away = 1 + (bulge * (u * u + v * v)) / corner
      const within = (at: number, end: number) => Math.min(Math.max(at, 0), end - 1.001)
      const [fromX, fromY] = [
        within(middleX + u * away - 0.5, shot.width),
        within(middleY + v * away - 0.5, shot.height),
      ]
      const [left, top] = [Math.floor(fromX), Math.floor(fromY)]
      const [fx, fy] = [fromX - left, fromY - top]
      for (let c = 0; c < 3; c++, i++) {
        const code = (dx: number, dy: number) =>
          shot.codes[3 * ((top + dy) * shot.width + left + dx) + c]!
        codes[i] = Math.round(
          (1 - fy) * ((1 - fx) * code(0, 0) + fx * code(1, 0)) +
            fy * ((1 - fx) * code(0, 1) + fx * code(1, 1)),
        )
      }
    }
  }
  return { ...shot, width, height, codes }
}

/** The raw picture as a file: three samples a pixel of 14 bits over a black level. */
export function dngOf(
  { width, height, raw }: Shot,
  camera: SimulatedCamera,
): Uint8Array<ArrayBuffer> {
  const [black, white] = [512, 16383]
  return writeDng({
    width,
    height,
    samples: new Uint16Array(raw.map((v) => Math.max(Math.round(black + v * (white - black)), 0))),
    layout: 'linear',
    black: [black],
    white,
    colorMatrix: invert(statedMatrix(camera)),
    asShotNeutral: [camera.card[0] / camera.card[1], 1, camera.card[2] / camera.card[1]],
  })
}

export const jpegOf = ({ width, height, codes }: Shot): Uint8Array<ArrayBuffer> =>
  encodeJpeg(codes, width, height, {
    quality: 92,
    halvedColour: true,
    iccProfile: writeIccProfile('Display P3', P3_COLORANTS),
  })

/** The photo after JPEG. */
export function developed({ width, height, codes }: Shot, quality = 92): Uint8Array {
  return decodeJpeg(encodeJpeg(codes, width, height, { quality, halvedColour: true })).data
}

export const mapOfRaw = ({ width, height, raw }: Shot): Promise<LightMap> =>
  lightMap({ width, height }, async (top, bottom) => {
    const rgb = raw.subarray(3 * top * width, 3 * bottom * width)
    const flags = new Uint8Array(rgb.length / 3)
    for (let p = 0; p < flags.length; p++) {
      if (Math.max(rgb[3 * p]!, rgb[3 * p + 1]!, rgb[3 * p + 2]!) >= 0.99) flags[p] = CLIPPED
    }
    return { rgb, flags }
  })

/** Linear light of each code. */
const LIGHT = Float32Array.from({ length: 256 }, (_, code) => decodeCode(code / 255))

export const mapOfPhoto = ({ width, height }: Shot, codes: Uint8Array): Promise<LightMap> =>
  lightMap({ width, height }, async (top, bottom) => {
    const rows = codes.subarray(3 * top * width, 3 * bottom * width)
    const flags = new Uint8Array(rows.length / 3)
    const rgb = new Float32Array(rows).map((code) => LIGHT[code]!)
    for (let p = 0; p < flags.length; p++) {
      const [r, g, b] = [rows[3 * p]!, rows[3 * p + 1]!, rows[3 * p + 2]!]
      flags[p] =
        (Math.max(r, g, b) >= 254 ? CLIPPED : 0) |
        (r === 0 ? FLOOR | FLOOR_RED : 0) |
        (g === 0 ? FLOOR | FLOOR_GREEN : 0) |
        (b === 0 ? FLOOR | FLOOR_BLUE : 0)
    }
    return { rgb, flags }
  })
