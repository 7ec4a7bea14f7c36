import type { SpectralPower } from '../../colour/xyz.ts'
import { INFRARED_FROM_NM, INFRARED_TO_NM, siliconAbsorbs } from '../../physics/silicon.ts'
import type { CameraSensitivity } from './sensitivity.ts'

const STEP_NM = 10

/**
 * Integral of a spectrum over what silicon absorbs of it from 780 to 1100 nm, per nm.
 *
 * @param depthMicrometres from which pixels collect: 3 to 5 in thin ones, tens in deep ones
 */
export function infraredIntegral(spectrum: SpectralPower, depthMicrometres: number): number {
  let sum = 0
  for (let nm = INFRARED_FROM_NM; nm <= INFRARED_TO_NM; nm += STEP_NM) {
    const end = nm === INFRARED_FROM_NM || nm === INFRARED_TO_NM ? 0.5 : 1
    sum += end * spectrum(nm) * siliconAbsorbs(nm, depthMicrometres)
  }
  return sum * STEP_NM
}

/**
 * What a pixel behind no infrared filter sees beyond 780 nm over {@link infraredIntegral}, in the
 * units of `respond`: the largest visible sensitivity of the camera, the same in all channels because
 * the dyes turn clear there. A filter that leaks lets a small part of it in.
 */
export function infraredSensitivity({ stepNm, values }: CameraSensitivity): number {
  return values.reduce((largest, row) => Math.max(largest, ...row), 0) / stepNm
}
