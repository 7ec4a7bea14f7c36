/** The step that would reduce the uncertainty most, and what would be left. */

import { SCALES } from '../numerics/heavy-tails.ts'
import { KNOWN_HEATS } from '../physics/fixed-points.ts'
import type { CameraPosterior } from './camera-posterior.ts'
import { condition, dot, type Observation, padded } from './conditioning.ts'
import { readingEquation } from './glow-equations.ts'
import type { GlowProblem } from './glow-problem.ts'
import { colourTemperatureOf } from './measured-ratio.ts'
import type {
  Advice,
  BalanceState,
  BudgetTerm,
  Contribution,
  GlowInput,
  GreyBalance,
} from './types.ts'

/** Advice must promise at least this much less. */
const WORTH_WHILE = 0.9
/** Share of the tone curve's error that is left when a reference has red at the same level. */
const MATCHED_REST = 0.1
/** Share of a drift's variance that goes when the lock is seen to hold: 0.005 is left of 0.03 (balance-drift.ts). */
const HELD_GAIN = 0.97
/** Photos of a new reference with ordinary care: relative uncertainty of G/R. */
const NEW_PHOTO = 0.004

interface Heat {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
}

/** Known heats that need no instrument. */
const HEATS: readonly Heat[] = KNOWN_HEATS.flatMap(({ points, observationUncertaintyK }) => {
  const list =
    points.by === 'nothing'
      ? [points.point]
      : points.by === 'atmosphere'
        ? Object.values(points.points)
        : []
  return list.map(({ temperatureK, standardUncertaintyK }) => ({
    temperatureK,
    standardUncertaintyK: Math.hypot(standardUncertaintyK, observationUncertaintyK),
  }))
})

export function advice(
  input: GlowInput,
  posterior: CameraPosterior,
  colourTemperatureK: number,
  standardUncertaintyK: number,
  budget: readonly Contribution[],
  tinted: boolean,
): Advice {
  const square = standardUncertaintyK ** 2
  const part = (term: BudgetTerm) =>
    budget.find((entry) => entry.term === term)?.standardUncertaintyK ?? 0
  const without = (term: BudgetTerm, share = 1) =>
    Math.sqrt(Math.max(square - share * part(term) ** 2, 0))
  const candidates: Advice[] = []
  const add = (
    code: Advice['code'],
    predictedStandardUncertaintyK: number,
    nearK: number | null = null,
  ) => candidates.push({ code, nearK, predictedStandardUncertaintyK })

  const references = posterior.problem.references.length
  const heat = bestHeat(posterior, colourTemperatureK, standardUncertaintyK)
  add(references > 0 ? 'second known heat' : 'known heat', heat.predictedK, heat.nearK)
  if (input.linearity.kind === 'single') {
    add('sweep or raw', without('tone curve'))
    if (references > 0) add('matched level', without('tone curve', 1 - MATCHED_REST ** 2))
  }
  if (input.balance === null) add('grey reference', without('grey reference', 0.95))
  else if (isUntried(input.balance, input.balanceState)) {
    const ofPhotos = driftShare(posterior.problem) * part('reference photo') ** 2
    const gone = HELD_GAIN * (part('balance drift') ** 2 + ofPhotos)
    add('try lock', Math.sqrt(Math.max(square - gone, 0)))
  }
  add('surface', without('surface'))
  add('more light', without('pixel noise', 0.9))
  if (tinted) add('find cause of tint', without('off locus'))
  const best = candidates.reduce((a, b) =>
    b.predictedStandardUncertaintyK < a.predictedStandardUncertaintyK ? b : a,
  )
  const unfixed = input.balanceState.kind === 'automatic' || input.balanceState.kind === 'unknown'
  if (unfixed)
    // References can help only once the camera stays as it is.
    return {
      code: 'set white balance',
      nearK: null,
      predictedStandardUncertaintyK: best.predictedStandardUncertaintyK,
    }
  if (best.predictedStandardUncertaintyK > WORTH_WHILE * standardUncertaintyK)
    return { code: 'nothing', nearK: null, predictedStandardUncertaintyK: standardUncertaintyK }
  return best
}

/** A lock that nobody has seen to hold; a card in the very picture needs none. */
const isUntried = ({ samePicture }: GreyBalance, { kind, lock }: BalanceState): boolean =>
  kind !== 'raw' && lock !== 'verified' && samePicture !== true

/** How much of what the known heats' photos err by is the drift of their balance. */
function driftShare({ references }: GlowProblem): number {
  const sum = (terms: readonly { readonly variance: number }[]) =>
    terms.reduce((all, { variance }) => all + variance, 0)
  const own = references.flatMap(({ measured }) => measured.own)
  return own.length === 0 ? 0 : sum(own.filter(({ term }) => term === 'balance drift')) / sum(own)
}

/** Tries each known heat as one more reference, photographed like the reading on the same surface. */
function bestHeat(
  posterior: CameraPosterior,
  colourTemperatureK: number,
  standardUncertaintyK: number,
): { nearK: number; predictedK: number } {
  const { problem } = posterior
  const middle = Math.floor(problem.curves.length / 2)
  const prior = meanPrior(posterior)
  const camera = likeliestCamera(posterior)
  const seen = posterior.observations[middle]![camera]!
  const now = spread(problem, prior, seen, colourTemperatureK, middle, camera)
  let best = { nearK: colourTemperatureK, predictedK: Number.POSITIVE_INFINITY }
  for (const heat of HEATS) {
    const then = spread(
      problem,
      prior,
      [...seen, observationOf(problem, heat, middle, camera)],
      colourTemperatureK,
      middle,
      camera,
    )
    const predictedK = (standardUncertaintyK * then) / now
    if (predictedK < best.predictedK) best = { nearK: heat.temperatureK, predictedK }
  }
  return best
}

function spread(
  problem: GlowProblem,
  prior: readonly number[],
  observations: readonly Observation[],
  colourTemperatureK: number,
  curve: number,
  camera: number,
): number {
  const { loading, variance } = readingEquation(problem, colourTemperatureK, curve, camera)
  const conditioned = condition(prior, observations)
  const seen = conditioned.predict(loading)
  return Math.sqrt(conditioned.covarianceOf(loading, loading, seen, seen) + variance)
}

function observationOf(
  problem: GlowProblem,
  heat: Heat,
  curve: number,
  camera: number,
): Observation {
  const seenK = colourTemperatureOf(heat.temperatureK, problem.reading.lnSlope)
  const equation = readingEquation(problem, seenK, curve, camera)
  const { mean, slope } = problem.cameras[camera]!.model.green(seenK)
  const photo = problem.model.scale === 'log' ? NEW_PHOTO : NEW_PHOTO * mean
  return {
    residual: 0,
    loading: padded(equation.loading, problem.coefficients.length),
    variance: photo * photo + (slope * heat.standardUncertaintyK) ** 2,
  }
}

/** The range of leaks with the most weight. */
function likeliestCamera({ problem, hypotheses }: CameraPosterior): number {
  const weights = problem.cameras.map(() => 0)
  for (const { camera, weight } of hypotheses) weights[camera]! += weight
  return weights.indexOf(Math.max(...weights))
}

/** Variances of the coefficients, averaged over the hypotheses. */
function meanPrior({ problem, hypotheses }: CameraPosterior): number[] {
  const typical = SCALES.reduce((sum, { variance, weight }) => sum + weight * variance, 0)
  return problem.coefficients.map((_, k) =>
    hypotheses.length === 0
      ? typical
      : dot(
          hypotheses.map(({ weight }) => weight),
          hypotheses.map(({ conditioned }) => conditioned.prior[k]!),
        ),
  )
}
