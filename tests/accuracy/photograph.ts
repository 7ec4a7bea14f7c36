/** Mean colours of simulated photos in linear light, with photon and read noise. */
import { xyzFromXy } from '../../src/colour/chromaticity.ts'
import { linearP3FromXyz } from '../../src/colour/rgb-spaces.ts'
import type { SpectralPower } from '../../src/colour/xyz.ts'
import type { LinearColour } from '../../src/light/image.ts'
import { respond } from '../../src/light/simulate/sensitivity.ts'
import type { SimulatedCamera } from '../../src/light/simulate/simulated-camera.ts'
import {
  diagonal,
  multiply,
  propagate,
  type Triple,
  transform,
} from '../../src/numerics/matrix3.ts'
import type { Random } from './random.ts'

export interface Sensor {
  /** Edge of the square patch, pixels; a quarter of them red, a quarter blue, half green. */
  readonly patchPixels: number
  /** Electrons in the brightest raw channel of the patch. */
  readonly electrons: number
  /** Standard deviation a pixel, electrons. */
  readonly readNoise: number
}

export const SENSOR: Sensor = { patchPixels: 40, electrons: 20_000, readNoise: 5 }

/** Raw mean of a patch, brightest channel at `level`, with the covariance of that mean. */
export function rawPatch(
  camera: SimulatedCamera,
  spectrum: SpectralPower,
  sensor: Sensor,
  random: Random | null,
): LinearColour {
  return sampled(respond(camera.sensitivity, spectrum), sensor, random)
}

/** A raw response, exposed so that its brightest channel fills, with the sensor's noise. */
export function sampled(response: Triple, sensor: Sensor, random: Random | null): LinearColour {
  const top = Math.max(...response)
  const pixels = sensor.patchPixels ** 2
  const sites = [pixels / 4, pixels / 2, pixels / 4]
  const mean = [0, 0, 0]
  const variance = [0, 0, 0]
  for (let c = 0; c < 3; c++) {
    const electrons = (sensor.electrons * response[c]!) / top
    variance[c] = (electrons + sensor.readNoise ** 2) / sites[c]! / sensor.electrons ** 2
    mean[c] = electrons / sensor.electrons + (random?.normal() ?? 0) * Math.sqrt(variance[c]!)
  }
  return {
    mean: mean as unknown as Triple,
    covariance: diagonal(variance as unknown as Triple),
  }
}

/** The same patch as the camera delivers it: linear Display P3. */
export function deliveredPatch(
  camera: SimulatedCamera,
  spectrum: SpectralPower,
  sensor: Sensor,
  random: Random | null,
): LinearColour {
  return delivered(camera, rawPatch(camera, spectrum, sensor, random))
}

export function delivered(camera: SimulatedCamera, raw: LinearColour): LinearColour {
  const { card, matrix } = camera
  const toP3 = multiply(matrix, diagonal([1 / card[0], 1 / card[1], 1 / card[2]]))
  return { mean: transform(toP3, raw.mean), covariance: propagate(toP3, raw.covariance) }
}

/** Linear P3 of a light of known chromaticity. */
export const p3OfXy = (x: number, y: number): Triple => linearP3FromXyz(xyzFromXy({ x, y }))
