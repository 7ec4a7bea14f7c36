/**
 * Several readings by one camera at once: their temperatures as unknowns beside the camera's numbers,
 * seen by their colours and, where levels are comparable, by their brightness too.
 *
 * Each hypothesis of the camera is linear with normal errors, so that the temperatures come with a
 * covariance in which everything that the readings share is counted with its sign.
 */

import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import {
  type CameraPosterior,
  cameraPosterior,
  type Hypothesis,
  mostProbable,
  normalised,
} from './camera-posterior.ts'
import { glowProblem } from './glow-problem.ts'
import {
  FREE_K,
  type JointCauses,
  jointCauses,
  type Linear,
  linearised,
  type Whereabouts,
} from './joint-equations.ts'
import { type Levels, levelsOf } from './joint-levels.ts'
import { type LevelState, levelStates, overruledAbove, SOUND } from './level-states.ts'
import { type MeasuredRatio, trueTemperatureOf } from './measured-ratio.ts'
import { referenceDoubts, tolerateConflicts } from './reference-check.ts'
import type { GlowInput, KnownHeatReference, TemperatureEstimate } from './types.ts'

/** One hypothesis about camera, curve and levels: a normal distribution of the temperatures. */
export interface JointComponent {
  readonly weight: number
  /** True temperatures of the readings, K, and their covariance, K². */
  readonly temperaturesK: readonly number[]
  readonly covarianceK2: readonly (readonly number[])[]
  /** Of the first reading's temperature. */
  readonly causes: JointCauses
}

export interface JointPosterior {
  readonly components: readonly JointComponent[]
  /**
   * How the levels of brightness were used: joined with colour; overruled by it, because a surface, a
   * shutter label or flare must have changed; or not there.
   */
  readonly levels: 'none' | 'joined' | 'overruled'
}

/**
 * Of several readings each is held to this many times what it is known to by itself. Where a leak hides
 * the temperature, green hardly moves with it, and a straight line would run on for hundreds of kelvins.
 * What a pair knows of its difference is far less than that, and stays as it is.
 */
const HELD_TO = 2

/** Newton steps: with the tone curves of single photos the start can be 100 K off. */
const STEPS = 3

/** Whether two readings can be put into one problem: the same camera, channels and balance. */
export function joinable(a: GlowInput, b: GlowInput): boolean {
  const state = ({ cameraId, channels, balanceState }: GlowInput) =>
    [cameraId, channels, balanceState.kind, balanceState.colourTemperatureK].join('|')
  return state(a) === state(b)
}

/**
 * The joint posterior of readings by one camera in one state.
 *
 * @param inputs each {@link joinable} with the first; their known heats are taken together
 * @param alone the estimate of each
 */
export function jointPosterior(
  inputs: readonly GlowInput[],
  alone: readonly Pick<TemperatureEstimate, 'colourTemperatureK' | 'standardUncertaintyK'>[],
  locus: CameraLocus = CAMERA_LOCUS,
): JointPosterior {
  const [first, ...others] = inputs as [GlowInput, ...GlowInput[]]
  const references = unionOf(inputs)
  const built = glowProblem({ ...first, references }, locus, others)
  const before = cameraPosterior(built)
  const problem = tolerateConflicts(before, referenceDoubts(before))
  const posterior = mostProbable(problem === built ? before : cameraPosterior(problem))
  const whereabouts = alone.map(({ colourTemperatureK, standardUncertaintyK }) => ({
    colourTemperatureK,
    widthK: HELD_TO * standardUncertaintyK,
  }))
  const startK = alone.map(({ colourTemperatureK }) => colourTemperatureK)
  return jointOf(posterior, inputs, startK, whereabouts)
}

/** The same on a posterior of the camera that is at hand; its problem holds the other readings. */
export function jointOf(
  posterior: CameraPosterior,
  inputs: readonly GlowInput[],
  startK: readonly number[],
  whereabouts: readonly Whereabouts[] = [],
): JointPosterior {
  const { problem } = posterior
  const readings = [problem.reading, ...problem.others]
  const levels = levelsOf(problem, inputs)
  const states = levels === null ? [SOUND] : levelStates(levels)
  const solved = posterior.hypotheses.flatMap((hypothesis) =>
    states.map((state) => ({
      state,
      ...solve(posterior, hypothesis, readings, startK, whereabouts, levels, state),
    })),
  )
  const weights = normalised(
    solved.map(({ logWeight, state }) => logWeight + Math.log(state.share)),
  )
  const wrong = solved.reduce((sum, { state }, i) => sum + (state.sd > 0 ? weights[i]! : 0), 0)
  return {
    components: solved.map(({ component }, i) => ({ ...component, weight: weights[i]! })),
    levels: levels === null ? 'none' : wrong > overruledAbove(states) ? 'overruled' : 'joined',
  }
}

/** Known heats of all, each once; where one was measured anew the later one. */
function unionOf(inputs: readonly GlowInput[]): KnownHeatReference[] {
  const byId = new Map<string, KnownHeatReference>()
  for (const reference of inputs.flatMap((input) => input.references)) {
    const known = byId.get(reference.id)
    if (!known || known.takenAt < reference.takenAt) byId.set(reference.id, reference)
  }
  return [...byId.values()]
}

function solve(
  posterior: CameraPosterior,
  hypothesis: Hypothesis,
  readings: readonly MeasuredRatio[],
  startK: readonly number[],
  whereabouts: readonly Whereabouts[],
  levels: Levels | null,
  state: LevelState,
) {
  const { problem } = posterior
  const { coldestK, hottestK } = problem.model
  /** Where the locus is known: a hypothesis that fits badly can lead out of all temperatures. */
  const moved = (from: readonly number[], { conditioned: { mean }, firstK }: Linear) =>
    from.map((kelvin, i) =>
      Math.min(Math.max(kelvin + mean[firstK + i]! * FREE_K, coldestK), hottestK),
    )
  let at = [...startK]
  let linear = linearised(posterior, hypothesis, readings, at, whereabouts, levels, state)
  for (let step = 1; step < STEPS; step++) {
    at = moved(at, linear)
    linear = linearised(posterior, hypothesis, readings, at, whereabouts, levels, state)
  }
  const { conditioned, firstK, slopes } = linear
  const { covariance } = conditioned
  const colourK = moved(at, linear)
  const temperaturesK = colourK.map((kelvin, i) => trueTemperatureOf(kelvin, readings[i]!))
  // d true / d colour temperature = (T / Tc)² in Wien's approximation.
  const factors = temperaturesK.map((kelvin, i) => FREE_K * (kelvin / colourK[i]!) ** 2)
  const covarianceK2 = factors.map((a, i) =>
    factors.map((b, j) => a * b * covariance[firstK + i]![firstK + j]!),
  )
  // An even prior in what each reading sees, G/R, as for one reading alone.
  const evenness = slopes.reduce((sum, slope) => sum + Math.log(slope * FREE_K), 0)
  return {
    logWeight:
      Math.log(hypothesis.weight) +
      conditioned.logEvidence -
      hypothesis.conditioned.logEvidence +
      evenness,
    component: { weight: 0, temperaturesK, covarianceK2, causes: jointCauses(linear, factors[0]!) },
  }
}
