import { type Xy, xyFromUv, xyFromXyz } from '../colour/chromaticity.ts'
import { observerAt } from '../colour/observer.ts'
import { isotherm, planckianXy } from '../colour/planckian-locus.ts'

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

/** Points of the Planckian locus, even in reciprocal temperature, where it is evenly curved. */
export function locusPoints(fromK: number, toK: number, count: number): Xy[] {
  return Array.from({ length: count }, (_, i) =>
    planckianXy(1 / (1 / fromK + ((1 / toK - 1 / fromK) * i) / (count - 1))),
  )
}

/** Both ends of an isotherm, for drawing in x, y. */
export function isothermXy(temperatureK: number, halfLengthDuv: number): readonly [Xy, Xy] {
  const [a, b] = isotherm(temperatureK, halfLengthDuv)
  return [xyFromUv(a), xyFromUv(b)]
}
