import { uvFromXy, type Xy, xyFromUv, xyFromXyz } from '../colour/chromaticity.ts'
import { observerAt } from '../colour/observer.ts'
import { planckXyz } from '../colour/xyz.ts'

/** The curves of the chromaticity diagram, all from the observer's own data. */
const FIRST_NM = 380
const LAST_NM = 700
const STEP_NM = 5

/** The pure spectral colours, violet to red. */
export function spectralLocus(): Xy[] {
  const points: Xy[] = []
  for (let nm = FIRST_NM; nm <= LAST_NM; nm += STEP_NM) {
    const xy = xyFromXyz(observerAt(nm))
    if (xy) points.push(xy)
  }
  return points
}

export function planckianXy(temperatureK: number): Xy {
  return xyFromXyz(planckXyz(temperatureK)) ?? { x: 1 / 3, y: 1 / 3 }
}

/** Temperatures evenly spaced in reciprocal temperature, where the locus is evenly curved. */
export function locusPoints(fromK: number, toK: number, count: number): Xy[] {
  return Array.from({ length: count }, (_, i) => {
    const reciprocal = 1 / fromK + ((1 / toK - 1 / fromK) * i) / (count - 1)
    return planckianXy(1 / reciprocal)
  })
}

/**
 * An isotherm: the short line across the locus on which the correlated colour temperature stays the
 * same, normal to the locus in CIE 1960 u, v (CIE 15).
 *
 * @param reach half length in u, v
 */
export function isotherm(temperatureK: number, reach: number): readonly [Xy, Xy] {
  const here = uvFromXy(planckianXy(temperatureK))
  const near = uvFromXy(planckianXy(temperatureK * 1.001))
  const du = near.u - here.u
  const dv = near.v - here.v
  const length = Math.hypot(du, dv)
  const step = { u: (-dv / length) * reach, v: (du / length) * reach }
  return [
    xyFromUv({ u: here.u + step.u, v: here.v + step.v }),
    xyFromUv({ u: here.u - step.u, v: here.v - step.v }),
  ]
}
