/** Photos of a bar whose temperature and emissivity differ from place to place, as files. */
import { decodeTransfer, encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import type { StoredImage } from '../../src/light/image.ts'
import { respond } from '../../src/light/simulate/sensitivity.ts'
import { glowSpectrum, type SimulatedCamera } from '../../src/light/simulate/simulated-camera.ts'
import { type Triple, transform } from '../../src/numerics/matrix3.ts'
import { decodeJpeg } from '../decode-jpeg.ts'
import { encodeJpeg } from '../making/encode-jpeg.ts'
import type { Random } from './random.ts'
import { type CameraCurve, throughCurve } from './tone-curves.ts'

export interface MapScene {
  readonly width: number
  readonly height: number
  /** K; 0 where nothing glows. Pixel centres. */
  temperatureK(x: number, y: number): number
  /** Factor on the light, grey. */
  emissivity(x: number, y: number): number
}

export interface MapPhoto {
  readonly camera: SimulatedCamera
  /** Linear red of the hottest pixel, 1 = top code. */
  readonly red: number
  /** Standard deviation of a normal blur, pixels. */
  readonly blur: number
  /** Electrons of a raw channel at full scale, and read noise of a pixel. */
  readonly electrons: number
  readonly readNoise: number
  readonly curve: CameraCurve | null
  /** Null: 16-bit codes as a raw converter writes them. */
  readonly coding: { readonly quality: number; readonly halvedColour: boolean } | null
}

const TABLE_K = { from: 700, to: 1700, step: 5 }

/** The camera's raw light of a black body over temperature, straight between rows. */
function rawTable(camera: SimulatedCamera): (kelvin: number) => Triple {
  const rows = Array.from({ length: (TABLE_K.to - TABLE_K.from) / TABLE_K.step + 1 }, (_, i) => {
    const raw = respond(camera.sensitivity, glowSpectrum(TABLE_K.from + i * TABLE_K.step))
    return raw.map((value, c) => Math.log(value / camera.card[c]!))
  })
  return (kelvin) => {
    const at = Math.min(Math.max((kelvin - TABLE_K.from) / TABLE_K.step, 0), rows.length - 1.001)
    const low = Math.floor(at)
    const value = (c: 0 | 1 | 2) =>
      Math.exp(rows[low]![c]! + (at - low) * (rows[low + 1]![c]! - rows[low]![c]!))
    return [value(0), value(1), value(2)]
  }
}

/** The scene as a stored picture in Display P3. */
export function photographMap(scene: MapScene, photo: MapPhoto, random: Random): StoredImage {
  const { width, height } = scene
  const { camera } = photo
  const table = rawTable(camera)
  const light = new Float64Array(3 * width * height)
  let hottest = 0
  for (let y = 0, i = 0; y < height; y++)
    for (let x = 0; x < width; x++, i += 3) {
      const kelvin = scene.temperatureK(x + 0.5, y + 0.5)
      if (kelvin <= 0) continue
      hottest = Math.max(hottest, kelvin)
      const raw = table(kelvin)
      const factor = scene.emissivity(x + 0.5, y + 0.5)
      for (const c of [0, 1, 2] as const) light[i + c] = raw[c] * factor
    }
  const top = table(hottest)
  const scale = photo.red / transform(camera.matrix, top)[0]
  const full = photo.electrons / (Math.max(...top) / transform(camera.matrix, top)[0])
  blurred(light, width, height, photo.blur)
  const codes = new Float32Array(3 * width * height)
  for (let i = 0; i < light.length; i += 3) {
    const noisy = ([0, 1, 2] as const).map((c) => {
      const electrons = light[i + c]! * scale * full
      const sd = Math.sqrt(Math.max(electrons, 0) + photo.readNoise ** 2)
      return (electrons + sd * random.normal()) / full
    }) as unknown as Triple
    const seen = transform(camera.matrix, noisy)
    const bent = photo.curve ? throughCurve(photo.curve, seen) : seen
    for (const c of [0, 1, 2] as const)
      codes[i + c] = Math.min(Math.max(encodeTransfer(bent[c]), 0), 1)
  }
  return { width, height, space: 'display-p3', codes: coded(codes, width, height, photo.coding) }
}

function coded(
  codes: Float32Array,
  width: number,
  height: number,
  coding: MapPhoto['coding'],
): Float32Array {
  if (coding === null) return codes.map((code) => Math.round(code * 65535) / 65535)
  const bytes = new Uint8Array(codes.map((code) => Math.round(255 * code)))
  const { data } = decodeJpeg(encodeJpeg(bytes, width, height, coding))
  return new Float32Array(data).map((code) => code / 255)
}

function blurred(light: Float64Array, width: number, height: number, sd: number): void {
  if (sd === 0) return
  const reach = Math.ceil(3.5 * sd)
  const kernel = Array.from({ length: 2 * reach + 1 }, (_, k) =>
    Math.exp(-((k - reach) ** 2) / (2 * sd * sd)),
  )
  const total = kernel.reduce((sum, k) => sum + k, 0)
  const pass = (count: number, length: number, along: number, across: number) => {
    const line = new Float64Array(length)
    for (let j = 0; j < count; j++)
      for (let c = 0; c < 3; c++) {
        for (let i = 0; i < length; i++) line[i] = light[3 * (j * across + i * along) + c]!
        for (let i = 0; i < length; i++) {
          let sum = 0
          for (let k = -reach; k <= reach; k++)
            sum += kernel[k + reach]! * line[Math.min(Math.max(i + k, 0), length - 1)]!
          light[3 * (j * across + i * along) + c] = sum / total
        }
      }
  }
  pass(height, width, 1, width)
  pass(width, height, width, 1)
}

/** Linear light of a full-scale code is 1: what the hottest pixel may reach without clipping. */
export const SAFE_RED = decodeTransfer(0.9)
