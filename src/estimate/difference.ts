import { mixtureQuantiles } from '../numerics/mixture.ts'
import { NORMAL_95 } from './budget.ts'
import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { estimateGlow } from './estimate-glow.ts'
import { type JointPosterior, joinable, jointPosterior } from './joint-posterior.ts'
import type { BudgetTerm, GlowInput, TemperatureEstimate } from './types.ts'

/** How much hotter one reading is than another, by one camera. */
export interface TemperatureDifference {
  /** Second less first, K. */
  readonly differenceK: number
  readonly standardUncertaintyK: number
  /** Contains the true difference with 95 % probability. */
  readonly interval95K: readonly [number, number]
  /** Correlation of the two temperatures. */
  readonly correlation: number
  /** Whether brightness was joined with colour. */
  readonly levels: JointPosterior['levels']
}

/**
 * A reading of the very piece that the other reading was taken of: both share the error of its surface.
 * Without it two surfaces of one material count as two.
 */
export const ofOnePiece = (input: GlowInput): GlowInput => ({
  ...input,
  surface: { ...input.surface, piece: `the one of ${input.surface.id}` },
})

/** Errors of a reading that its equation does not hold: its own, or of a window. */
const BESIDE: readonly BudgetTerm[] = ['thin glow', 'off locus']

/**
 * The difference of two readings by one camera in one white-balance state, from the joint posterior of
 * the camera and both temperatures: camera, known heats, card, curve and surface move both, each with
 * its sign, and drop out as far as they move both alike.
 *
 * @returns null where they have no common camera, or one of them no temperature
 */
export function temperatureDifference(
  first: GlowInput,
  second: GlowInput,
  locus: CameraLocus = CAMERA_LOCUS,
): TemperatureDifference | null {
  if (!joinable(first, second)) return null
  const alone = [first, second].map((input) => estimateGlow(input, locus))
  const [a, b] = alone
  if (a?.kind !== 'temperature' || b?.kind !== 'temperature') return null
  const inputs = [first, second]
  const joint = jointPosterior(inputs, [a, b], locus)
  const difference = differenceOf(joint, beside(first, a, second, b))
  const [u, v] = [a.standardUncertaintyK, b.standardUncertaintyK]
  const together = u * u + v * v - difference.standardUncertaintyK ** 2
  return { ...difference, correlation: Math.min(Math.max(together / (2 * u * v), -1), 1) }
}

/** Variance of the difference by what is counted beside the joint posterior, K². */
function beside(
  first: GlowInput,
  a: TemperatureEstimate,
  second: GlowInput,
  b: TemperatureEstimate,
): number {
  const part = ({ budget }: TemperatureEstimate, term: BudgetTerm) =>
    budget.find((entry) => entry.term === term)?.standardUncertaintyK ?? 0
  const own = BESIDE.reduce((sum, term) => sum + part(a, term) ** 2 + part(b, term) ** 2, 0)
  const [behindA, behindB] = [part(a, 'window'), part(b, 'window')]
  const sameWindow = first.window?.id === second.window?.id
  return own + (sameWindow ? (behindA - behindB) ** 2 : behindA ** 2 + behindB ** 2)
}

/** Of the two readings of a joint posterior; `moreK2` is further variance of the difference. */
function differenceOf(
  { components, levels }: JointPosterior,
  moreK2: number,
): Omit<TemperatureDifference, 'correlation'> {
  const parts = components.map(
    ({ weight, temperaturesK: [t1, t2], covarianceK2: [row1, row2] }) => ({
      weight,
      mean: t2! - t1!,
      sd: Math.sqrt(Math.max(row1![0]! + row2![1]! - 2 * row1![1]!, 0) + moreK2),
    }),
  )
  const [low, median, high] = mixtureQuantiles(parts, [0.025, 0.5, 0.975]) as [
    number,
    number,
    number,
  ]
  return {
    differenceK: median,
    standardUncertaintyK: (high - low) / (2 * NORMAL_95),
    interval95K: [low, high],
    levels,
  }
}
