import type { Matrix3, Triple } from '../../numerics/matrix3.ts'
import data from './mean-camera.data.json'
import { type CameraSensitivity, respond } from './sensitivity.ts'
import { PRESET_LIGHT, type SimulatedBalance, type SimulatedCamera } from './simulated-camera.ts'

/** The mean of measured cameras: what simulated photos and the practice bench are taken with. */
export const MEAN_CAMERA: CameraSensitivity = {
  make: data.make,
  model: data.model,
  firstNm: data.firstNm,
  stepNm: data.stepNm,
  values: data.values as unknown as readonly Triple[],
}

/** The mean camera with its white balance locked. */
export function meanCamera(balance: SimulatedBalance): SimulatedCamera {
  return {
    sensitivity: MEAN_CAMERA,
    balance,
    card: respond(MEAN_CAMERA, PRESET_LIGHT[balance]),
    matrix: data.matrices[balance] as unknown as Matrix3,
  }
}
