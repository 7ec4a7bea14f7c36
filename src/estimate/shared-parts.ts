/** Contributions that a reading shares with others, cause by cause and with their signs. */
import type { GlowProblem } from './glow-problem.ts'
import { METHOD_VERSION } from './method-version.ts'
import type { BudgetTerm, Contribution, SharedPart } from './types.ts'

/** What one cause does to a reading when it is one standard uncertainty up. */
export interface Effect {
  readonly term: BudgetTerm
  readonly cause: string
  /** Signed, in the unit of the budget it belongs to. */
  readonly effect: number
}

/** Parts below this share of the whole standard uncertainty stay in the rest of their term. */
const LEAST_SHARE = 0.05

/** Signed effects over weighted hypotheses: the mean square, with the sign of the mean. */
export class SharedEffects {
  private readonly sums = new Map<BudgetTerm, Map<string, { mean: number; square: number }>>()

  add({ term, cause, effect }: Effect, weight: number): void {
    const byCause = this.sums.get(term) ?? new Map<string, { mean: number; square: number }>()
    this.sums.set(term, byCause)
    const { mean, square } = byCause.get(cause) ?? { mean: 0, square: 0 }
    byCause.set(cause, { mean: mean + weight * effect, square: square + weight * effect ** 2 })
  }

  /**
   * The budget with its parts, each scaled as its term was.
   *
   * @param linear variances by term, as they were before the budget was balanced
   */
  within(
    contributions: readonly Contribution[],
    linear: ReadonlyMap<BudgetTerm, number>,
  ): Contribution[] {
    const whole = Math.hypot(...contributions.map(({ standardUncertaintyK: u }) => u))
    return contributions.map((contribution) => {
      const { term, standardUncertaintyK } = contribution
      const variance = linear.get(term) ?? 0
      const scale = variance > 0 ? standardUncertaintyK / Math.sqrt(variance) : 0
      const parts = [...(this.sums.get(term) ?? [])]
        .map(([cause, { mean, square }]): SharedPart => {
          const size = scale * Math.sqrt(square)
          return { cause, effectK: mean < 0 ? -size : size }
        })
        .filter(({ effectK }) => Math.abs(effectK) > LEAST_SHARE * whole)
      return parts.length > 0 ? { ...contribution, parts } : contribution
    })
  }
}

/**
 * Names of the problem's coefficients, the same in every problem of one camera in one state. A number
 * of the camera means another thing once the computation has changed.
 */
export function coefficientCauses({ coefficients, places }: GlowProblem): string[] {
  const causes = coefficients.map((_, k) => `${METHOD_VERSION} ${k}`)
  for (const [key, k] of places) causes[k] = key
  return causes
}

/** The error of a known heat that stands alone. */
export const heatCause = ({ references }: GlowProblem, index: number): string =>
  `heat ${references[index]!.reference.id}`

export const scaledContribution = (
  { term, standardUncertaintyK, parts }: Contribution,
  by: number,
): Contribution => ({
  term,
  standardUncertaintyK: standardUncertaintyK * by,
  ...(parts && { parts: parts.map(({ cause, effectK }) => ({ cause, effectK: effectK * by })) }),
})
