import type { Course, Peak } from '../../estimate/recording/course.ts'
import type { Duration, Passage } from '../../estimate/recording/crossings.ts'
import type { HeatCurve } from '../../estimate/recording/heat-curve.ts'
import type { LawFit } from '../../estimate/recording/laws.ts'
import type { Plateau } from '../../estimate/recording/plateaus.ts'
import type { Slope } from '../../estimate/recording/slope.ts'

/** What is found in a curve as soon as it is opened. */
export interface CurveFindings {
  readonly plateaus: readonly Plateau[]
  readonly peak: Peak | null
  readonly course: Course | null
}

/** A part of a curve, s, and the surroundings into which a body cools, K. */
export interface CurvePart {
  readonly from: number
  readonly to: number
  readonly roomK: number
}

/** What takes too long for the page: two hours are 72,000 readings. 'open' comes first. */
export type CurveOperations = {
  open: readonly [HeatCurve, CurveFindings]
  slopeAt: readonly [number, Slope | null]
  part: readonly [CurvePart, { readonly slope: Slope | null; readonly laws: readonly LawFit[] }]
  times: readonly [
    { readonly fromK: number; readonly toK: number | null },
    { readonly passage: Passage | null; readonly above: Duration },
  ]
}
