/** What an eye-like observer would say of the balanced colour; for people and charts only. */
import {
  uvPrimeCovarianceFromXy,
  uvPrimeFromXy,
  xyCovarianceFromXyz,
  xyFromXyz,
} from '../colour/chromaticity.ts'
import { colourTemperatureFromXy } from '../colour/planckian-locus.ts'
import { XYZ_FROM_P3 } from '../colour/rgb-spaces.ts'
import { type Matrix2, type Matrix3, propagate, transform } from '../numerics/matrix3.ts'
import { addMatrices } from '../numerics/statistics.ts'
import type { BalancedColour } from './balanced-colour.ts'
import { curveCovariance, curveMoments } from './tone-curve-prior.ts'
import type { EyeView, Linearity } from './types.ts'

/**
 * CIE chromaticity of a colour in linear Display P3, with correlated colour temperature and Duv
 * where they are defined. What the tone curve leaves open is in its covariance.
 *
 * @returns null for a colour without light
 */
export function eyeView({ rgb, covariance }: BalancedColour, linearity: Linearity): EyeView | null {
  const xyz = transform(XYZ_FROM_P3, rgb)
  const [, g, b] = rgb
  const both = g * b * curveCovariance(linearity)
  const ofCurve: Matrix3 = [
    [0, 0, 0],
    [0, g * g * curveMoments(linearity, 'green').variance, both],
    [0, both, b * b * curveMoments(linearity, 'blue').variance],
  ]
  const xyzCovariance = propagate(XYZ_FROM_P3, addMatrices(covariance, ofCurve))
  const xy = xyFromXyz(xyz)
  const xyCovariance = xyCovarianceFromXyz(xyz, xyzCovariance)
  if (xy === undefined || xyCovariance === undefined) return null
  const uv = uvPrimeFromXy(xy)
  const temperature = colourTemperatureFromXy(xy)
  const near = temperature.kind === 'near' ? temperature : null
  // Derivatives by differences: a step of 1e-5 in x, y is far below any measured spread.
  const step = 1e-5
  const slopes =
    near === null
      ? null
      : (
          [
            [step, 0],
            [0, step],
          ] as const
        ).map(([dx, dy]) => {
          const moved = colourTemperatureFromXy({ x: xy.x + dx, y: xy.y + dy })
          return moved.kind === 'near'
            ? {
                cct: (moved.temperatureK - near.temperatureK) / step,
                duv: (moved.duv - near.duv) / step,
              }
            : null
        })
  const along = (of: 'cct' | 'duv'): number | null => {
    const [byX, byY] = slopes ?? []
    if (!byX || !byY) return null
    const [a, b] = [byX[of], byY[of]]
    const [[xx, xyTerm], [, yy]] = xyCovariance
    return Math.sqrt(Math.max(a * a * xx + 2 * a * b * xyTerm + b * b * yy, 0))
  }
  const flat = ([[a, b], [c, d]]: Matrix2) => [a, b, c, d] as const
  return {
    x: xy.x,
    y: xy.y,
    u: uv.uPrime,
    v: uv.vPrime,
    covarianceXy: flat(xyCovariance),
    covarianceUv: flat(uvPrimeCovarianceFromXy(xy, xyCovariance)),
    cctK: near?.temperatureK ?? null,
    standardUncertaintyCctK: along('cct'),
    duv: near?.duv ?? null,
    standardUncertaintyDuv: along('duv'),
  }
}
