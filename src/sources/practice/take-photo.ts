import { encodeTransfer } from '../../colour/rgb-spaces.ts'
import type { SimulatedCamera } from '../../light/simulate/simulated-camera.ts'
import { type Triple, transform } from '../../numerics/matrix3.ts'

/** How a simulated photo is taken. */
export interface PhotoExposure {
  readonly width: number
  readonly height: number
  /** Electrons of a full pixel, and standard deviation of its reading, electrons. */
  readonly fullElectrons: number
  readonly readElectrons: number
  /** Uniform random numbers, 0..1. */
  readonly random: () => number
}

/**
 * Light that a lens scatters: a sharp core and halos, as shares of the light and standard deviations
 * in pixels (invented; a clean phone lens by its looks).
 */
const HALOS = [
  { share: 0.01, sigma: 14 },
  { share: 0.005, sigma: 60 },
] as const
const CORE_SIGMA = 0.8

/** Light on the sensor: raw channels over those of the grey card, 1 = full, a plane each. */
type SensorLight = readonly Float32Array[]

/**
 * Takes a photo of a scene with a simulated camera: lens, photon and read noise in raw channels,
 * colour matrix, standard transfer function. No tone curve of its own.
 *
 * @param scene raw channels over those of the grey card, 1 = full, at a pixel's centre
 * @returns 8-bit codes in Display P3, interleaved
 */
export const takePhoto = (
  camera: SimulatedCamera,
  scene: (x: number, y: number) => Triple,
  exposure: PhotoExposure,
): Uint8Array => expose(camera, lightOfScene(scene, exposure), exposure)

/** What the lens makes of a scene: nearly all of the work, and the same for every exposure of it. */
export function lightOfScene(
  scene: (x: number, y: number) => Triple,
  { width, height }: Pick<PhotoExposure, 'width' | 'height'>,
): SensorLight {
  const planes = [0, 1, 2].map(() => new Float32Array(width * height))
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i++) {
      const light = scene(x + 0.5, y + 0.5)
      for (const c of [0, 1, 2] as const) planes[c]![i] = light[c]
    }
  }
  return planes.map((plane) => throughLens(plane, width, height))
}

/** {@link takePhoto} of light that has passed the lens, longer or shorter by a factor. */
export function expose(
  camera: SimulatedCamera,
  seen: SensorLight,
  { width, height, fullElectrons, readElectrons, random }: PhotoExposure,
  factor = 1,
): Uint8Array {
  const codes = new Uint8Array(3 * width * height)
  for (let i = 0; i < width * height; i++) {
    const raw = seen.map((plane) => {
      const electrons = factor * plane[i]! * fullElectrons
      const sd = Math.sqrt(Math.max(electrons, 0) + readElectrons ** 2)
      return Math.min(1, (electrons + sd * normal(random)) / fullElectrons)
    }) as unknown as Triple
    transform(camera.matrix, raw).forEach((linear, c) => {
      codes[3 * i + c] = Math.round(255 * Math.min(Math.max(encodeTransfer(linear), 0), 1))
    })
  }
  return codes
}

function throughLens(plane: Float32Array, width: number, height: number): Float32Array {
  const core = blurred(plane, width, height, CORE_SIGMA)
  const scattered = HALOS.reduce((sum, { share }) => sum + share, 0)
  const out = core.map((v) => v * (1 - scattered))
  for (const { share, sigma } of HALOS) {
    const halo = blurred(plane, width, height, sigma)
    for (let i = 0; i < out.length; i++) out[i] = out[i]! + share * halo[i]!
  }
  return out
}

/** Gaussian blur, rows then columns; beyond the edge the picture is taken to go on as it ends. */
function blurred(plane: Float32Array, width: number, height: number, sigma: number): Float32Array {
  const reach = Math.ceil(3 * sigma)
  const kernel = Float32Array.from({ length: 2 * reach + 1 }, (_, i) =>
    Math.exp(-0.5 * ((i - reach) / sigma) ** 2),
  )
  const sum = kernel.reduce((a, b) => a + b, 0)
  const pass = (from: Float32Array, length: number, lines: number, step: number, gap: number) => {
    const to = new Float32Array(from.length)
    for (let line = 0; line < lines; line++) {
      for (let k = 0; k < length; k++) {
        let v = 0
        for (let j = -reach; j <= reach; j++) {
          const at = Math.min(Math.max(k + j, 0), length - 1)
          v += kernel[j + reach]! * from[line * gap + at * step]!
        }
        to[line * gap + k * step] = v / sum
      }
    }
    return to
  }
  return pass(pass(plane, width, height, 1, width), height, width, width, 1)
}

/** Standard normal (Box & Muller 1958). */
function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}
