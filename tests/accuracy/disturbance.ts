/**
 * What real cameras do beside their measured sensitivities: they let infrared in, make colours more
 * vivid, move their balance between two photos; and what is read is not the surface of the known heat.
 */
import type { SpectralPower } from '../../src/colour/xyz.ts'
import type { LinearColour } from '../../src/light/image.ts'
import { infraredSensitivity } from '../../src/light/simulate/infrared-leak.ts'
import { respond } from '../../src/light/simulate/sensitivity.ts'
import type { SimulatedCamera } from '../../src/light/simulate/simulated-camera.ts'
import {
  type Matrix3,
  multiply,
  propagate,
  type Triple,
  transform,
} from '../../src/numerics/matrix3.ts'
import { delivered, type Sensor, sampled } from './photograph.ts'
import type { Random } from './random.ts'

export interface Disturbance {
  /** Transmittance of the infrared filter beyond 780 nm over that of the visible. */
  readonly leak: number
  /** Factor on the distance from grey, in linear light. */
  readonly saturation: number
  /** Of the glow's photo against card and known heats, ln(G/R) as delivered. */
  readonly drift: number
  /** ln of emissivity at 550 over that at 650 nm, of the glow against the known heats. */
  readonly surface: number
}

export const UNDISTURBED: Disturbance = { leak: 0, saturation: 1, drift: 0, surface: 0 }

/**
 * Quantum efficiency of an ordinary silicon sensor over its peak beyond the visible, from memory of
 * published curves: not what the estimate computes its leak with.
 */
const SILICON: readonly (readonly [number, number])[] = [
  [780, 0.8],
  [850, 0.6],
  [900, 0.45],
  [950, 0.3],
  [1000, 0.15],
  [1050, 0.05],
  [1100, 0],
]
const STEP_NM = 5

function infrared(spectrum: SpectralPower): number {
  let sum = 0
  for (const [i, [from, low]] of SILICON.slice(0, -1).entries()) {
    const [to, high] = SILICON[i + 1]!
    for (let nm = from + STEP_NM / 2; nm < to; nm += STEP_NM)
      sum += STEP_NM * spectrum(nm) * (low + ((nm - from) / (to - from)) * (high - low))
  }
  return sum
}

/** Raw response of a camera whose filter leaks. */
export function leakyResponse(
  { sensitivity }: SimulatedCamera,
  spectrum: SpectralPower,
  leak: number,
): Triple {
  const [r, g, b] = respond(sensitivity, spectrum)
  const equal = leak === 0 ? 0 : leak * infraredSensitivity(sensitivity) * infrared(spectrum)
  return [r + equal, g + equal, b + equal]
}

/** A glow from a surface whose emissivity slopes. */
export const sloped =
  (spectrum: SpectralPower, slope: number): SpectralPower =>
  (nm) =>
    spectrum(nm) * Math.exp((slope * (650 - nm)) / 100)

/** A patch as such a camera delivers it. */
export function disturbedPatch(
  camera: SimulatedCamera,
  spectrum: SpectralPower,
  sensor: Sensor,
  random: Random | null,
  { leak, saturation, drift }: Pick<Disturbance, 'leak' | 'saturation' | 'drift'>,
): LinearColour {
  const raw = sampled(leakyResponse(camera, spectrum, leak), sensor, random)
  const { mean, covariance } = delivered(camera, raw)
  const vivid = multiply(balanceMoved(drift), saturating(saturation))
  return { mean: transform(vivid, mean), covariance: propagate(vivid, covariance) }
}

/** Away from the grey of the same lightness; weights of linear Display P3 (SMPTE EG 432-1). */
function saturating(factor: number): Matrix3 {
  const weights = [0.229, 0.6917, 0.0793] as const
  const row = (own: 0 | 1 | 2): Triple => {
    const at = (c: 0 | 1 | 2) => (1 - factor) * weights[c] + (c === own ? factor : 0)
    return [at(0), at(1), at(2)]
  }
  return [row(0), row(1), row(2)]
}

export const balanceMoved = (drift: number): Matrix3 => [
  [1, 0, 0],
  [0, Math.exp(drift), 0],
  [0, 0, Math.exp(2 * drift)],
]

export interface DisturbanceRow {
  readonly name: string
  draw(random: Random): Disturbance
}

const fixed = (name: string, change: Partial<Disturbance>): DisturbanceRow => ({
  name,
  draw: () => ({ ...UNDISTURBED, ...change }),
})

export const DISTURBANCES: readonly DisturbanceRow[] = [
  fixed('as the data', {}),
  fixed('leak 0.0003', { leak: 3e-4 }),
  fixed('leak 0.001', { leak: 1e-3 }),
  fixed('leak 0.003', { leak: 3e-3 }),
  fixed('saturation 1.1', { saturation: 1.1 }),
  fixed('saturation 1.2', { saturation: 1.2 }),
  fixed('leak 0.001, saturation 1.2', { leak: 1e-3, saturation: 1.2 }),
  fixed('balance 0.05', { drift: 0.05 }),
  fixed('surface 0.05', { surface: 0.05 }),
  {
    name: 'drawn',
    draw: (random) => ({
      leak: 1e-5 * 300 ** random.uniform(),
      saturation: 1 + 0.3 * random.uniform(),
      drift: 0.03 * random.normal(),
      surface: 0.03 * random.normal(),
    }),
  },
]
