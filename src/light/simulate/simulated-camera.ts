import { xyzFromXy } from '../../colour/chromaticity.ts'
import { D65_K, daylightSpectrum } from '../../colour/daylight.ts'
import { ILLUMINANT_A, illuminantA } from '../../colour/illuminants.ts'
import { linearP3FromXyz } from '../../colour/rgb-spaces.ts'
import type { SpectralPower } from '../../colour/xyz.ts'
import { type Matrix3, type Triple, transform } from '../../numerics/matrix3.ts'
import { planckRadiance } from '../../physics/planck.ts'
import { fitColourMatrix } from './colour-matrix.ts'
import { type CameraSensitivity, respond, type TrainingSpectra } from './sensitivity.ts'

/** The two white-balance presets that are simulated: locked on D65, locked on illuminant A. */
export type SimulatedBalance = 'daylight' | 'lamp'

export interface SimulatedCamera {
  readonly sensitivity: CameraSensitivity
  readonly balance: SimulatedBalance
  /** Raw response to a grey card under the light of the preset. */
  readonly card: Triple
  /** From raw over {@link card} to linear Display P3, see {@link fitColourMatrix}. */
  readonly matrix: Matrix3
}

export const PRESET_LIGHT: Record<SimulatedBalance, SpectralPower> = {
  daylight: daylightSpectrum(D65_K),
  lamp: illuminantA,
}

/** A camera with its white balance locked. */
export function simulateCamera(
  sensitivity: CameraSensitivity,
  training: TrainingSpectra,
  balance: SimulatedBalance,
): SimulatedCamera {
  const light = PRESET_LIGHT[balance]
  return {
    sensitivity,
    balance,
    card: respond(sensitivity, light),
    matrix: fitColourMatrix(sensitivity, light, training),
  }
}

/** Linear Display P3 as the camera delivers it: 1, 1, 1 for a grey card under its preset's light. */
export function deliveredP3(camera: SimulatedCamera, spectrum: SpectralPower): Triple {
  const raw = respond(camera.sensitivity, spectrum)
  const { card } = camera
  return transform(camera.matrix, [raw[0] / card[0], raw[1] / card[1], raw[2] / card[2]])
}

/** Spectrum of a black body; relative units will do for all that is done with it here. */
export const glowSpectrum =
  (temperatureK: number): SpectralPower =>
  (nm) =>
    planckRadiance(nm * 1e-9, temperatureK)

const A_IN_P3 = linearP3FromXyz(xyzFromXy(ILLUMINANT_A))

/**
 * Linear P3 of the light of a preset: what a grey card under it is carried to. The camera delivers
 * the card as 1, 1, 1, the eye of the observer would see it so.
 */
export const PRESET_WHITE: Record<SimulatedBalance, Triple> = {
  daylight: [1, 1, 1],
  lamp: A_IN_P3,
}
