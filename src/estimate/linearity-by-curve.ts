import { type ToneCurve, toneCurveUncertainty } from '../light/exposure-sweep/tone-curve.ts'
import type { Triple } from '../numerics/matrix3.ts'
import type { Linearity } from './types.ts'

/**
 * The light of a photo whose tone curve was undone by a recovered one.
 *
 * @param storedLevels codes 0..1 of the region
 * @param movedBy standard uncertainty of ln(G/R) by what may have changed in the camera since the
 * curve was found or checked. It counts as this photo's own: an earlier one was taken before it.
 */
export function linearityByCurve(
  curve: ToneCurve,
  curveId: string,
  storedLevels: Triple,
  movedBy: number,
): Linearity {
  const { green, blue, greenErrors, own } = toneCurveUncertainty(curve, storedLevels)
  return {
    kind: 'sweep',
    curveId,
    standardUncertaintyGreen: green,
    standardUncertaintyBlue: blue,
    greenErrors,
    ownUncertainty: Math.hypot(own, movedBy),
  }
}
