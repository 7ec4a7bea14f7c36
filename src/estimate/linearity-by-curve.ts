import type { SweepMeasurement } from '../light/exposure-sweep/sweep-result.ts'
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

/**
 * The light of a sweep, which recovered its own curve. What the curve left open it shares with photos
 * that are read by it; the rest (noise, drift) is its own.
 *
 * @param curveId of this sweep: what another one leaves uncertain is another error
 */
export function linearityOfSweep(
  curveId: string,
  {
    standardUncertaintyGreen,
    standardUncertaintyBlue,
    greenErrors,
    frames,
  }: Pick<
    SweepMeasurement,
    'standardUncertaintyGreen' | 'standardUncertaintyBlue' | 'greenErrors' | 'frames'
  >,
): Linearity {
  const photos = frames.filter(({ residuals }) => residuals && residuals[1] !== null).length
  const whole = { kind: 'sweep', curveId, standardUncertaintyBlue, photos } as const
  if (greenErrors.length === 0) return { ...whole, standardUncertaintyGreen }
  const shared = Math.hypot(...greenErrors)
  return {
    ...whole,
    standardUncertaintyGreen: shared,
    greenErrors,
    ownUncertainty: Math.sqrt(Math.max(standardUncertaintyGreen ** 2 - shared ** 2, 0)),
  }
}
