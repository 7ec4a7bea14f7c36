import { LARGEST_CLIPPED_SHARE } from '../light/patch.ts'
import { trueTemperatureFromColourWien } from '../physics/emissivity.ts'
import { advice } from './advice.ts'
import { budget, NORMAL_95 } from './budget.ts'
import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { type CameraPosterior, cameraPosterior, mostProbable } from './camera-posterior.ts'
import { eyeView } from './eye-view.ts'
import {
  findingsOfInput,
  findingsOfReferences,
  GREEN_FLOOR_SHARE,
  referenceUses,
} from './glow-findings.ts'
import { type GlowProblem, glowProblem } from './glow-problem.ts'
import { joinBrightness } from './join-brightness.ts'
import { leakEstimate } from './leak-estimate.ts'
import { GREEN_NM, RED_NM } from './measured-ratio.ts'
import { type OffLocus, offLocus } from './off-locus.ts'
import { referenceDoubts, tolerateConflicts } from './reference-check.ts'
import { scaledContribution } from './shared-parts.ts'
import { smearedBy } from './smeared-colour.ts'
import { sound } from './sound-input.ts'
import { temperatureDistribution } from './temperature-distribution.ts'
import type {
  BudgetTerm,
  Finding,
  GlowEstimate,
  GlowInput,
  LeakEstimate,
  ReferenceUse,
} from './types.ts'
import { hottestOfSoLittleGreen } from './upper-limit.ts'

export { CAMERA_LOCUS }

/** Below this there is too little green to measure, whatever the camera. */
const COLDEST_READING_K = 900
/** The locus is known up to here. */
const HOTTEST_READING_K = 3200
/** Red must stand this many standard uncertainties above nothing. */
const LEAST_RED = 3
/** Smear of ln(G/R) that does not count. */
const LEAST_SMEAR = 0.001
/** A filter that surely lets more infrared through than this is worth a word. */
const LEAST_LEAK = 1e-4

/**
 * Temperature of a glow from its colour, with an uncertainty that can be believed.
 *
 * The camera's own locus, not that of the CIE observer, turns G/R into temperature; references
 * narrow it. The interval is the propagated distribution's (JCGM 101:2008), the budget its linear
 * picture (JCGM 100:2008).
 *
 * Range 900 to 3200 K; below it an upper bound, above it no number.
 *
 * @param locus what is known of cameras in general; tests give one that has not seen theirs
 */
export function estimateGlow(input: GlowInput, locus: CameraLocus = CAMERA_LOCUS): GlowEstimate {
  const findings = findingsOfInput(input)
  const nothing = (reason: 'clipped' | 'dark' | 'above range' | 'bad input'): GlowEstimate => ({
    kind: 'no number',
    reason,
    eye: null,
    findings,
  })
  if (!sound(input)) return nothing('bad input')
  if (input.quality.clippedShare > LARGEST_CLIPPED_SHARE) return nothing('clipped')
  const red = input.glow.mean[0]
  if (!(red > LEAST_RED * Math.sqrt(input.glow.covariance[0][0]) && red > 0)) return nothing('dark')

  let problem = glowProblem(input, locus)
  const managed = input.channels === 'display-p3' || input.cameraToXyz !== null
  const eye = managed ? eyeView(problem.colour, input.linearity) : null
  if (problem.model.scale === 'log' && !(problem.colour.green > 0))
    return { kind: 'no number', reason: 'dark', eye, findings }
  const smeared = smearedBy(input)
  if (smeared > LEAST_SMEAR)
    problem = widened(problem, 'thin glow', smeared * relativeUnit(problem))
  if (input.window !== null) problem = widened(problem, 'window', windowUncertainty(problem, input))

  let posterior = cameraPosterior(problem)
  const doubts = referenceDoubts(posterior)
  const tolerant = tolerateConflicts(posterior, doubts)
  if (tolerant !== problem) {
    problem = tolerant
    posterior = cameraPosterior(problem)
  }
  posterior = mostProbable(posterior)
  const referencesUsed = referenceUses(input, problem, doubts)
  findings.push(...findingsOfReferences(referencesUsed))

  const atFloor = input.quality.floorShare[1] > GREEN_FLOOR_SHARE || !(problem.colour.green > 0)
  const spread = spreadOf(posterior)
  const leak = leakEstimate(spread.read)
  if (leak.low95 > LEAST_LEAK) findings.push({ code: 'infrared leak', share: leak.median })
  if (atFloor || trueOf(spread.cool, problem) < COLDEST_READING_K)
    return belowRange(posterior, eye, findings)
  // A stated surface or window may be bluer than any heat: then no temperature gives the colour.
  if (spread.median >= HOTTEST_READING_K || !Number.isFinite(trueOf(spread.high, problem)))
    return { kind: 'no number', reason: 'above range', eye, findings }

  const test = offLocus(posterior, spread.median)
  const tinted = test.verdict === 'too blue' || test.verdict === 'too yellow'
  if (test.verdict === 'too blue' || test.verdict === 'too yellow') {
    findings.push({ code: 'off locus', verdict: test.verdict })
    // The distribution allows for foreign light; budget and brightness are told here.
    posterior = { ...posterior, problem: withForeignLight(problem, Math.abs(test.excess)) }
  }
  const colour = temperature(
    input,
    { ...spread.read, problem: posterior.problem },
    spread,
    test,
    tinted,
    leak,
    eye,
    referencesUsed,
    findings,
  )
  return colour.kind === 'temperature' ? joinBrightness(input, posterior, colour) : colour
}

interface Spread {
  /** The posterior with the reading itself counted. */
  readonly read: CameraPosterior
  readonly low: number
  /** Probably not colder. */
  readonly cool: number
  readonly median: number
  readonly high: number
  readonly standardUncertainty: number
}

function spreadOf(posterior: CameraPosterior): Spread {
  const { quantile, quantileOfAny, posterior: read } = temperatureDistribution(posterior)
  const [median, high] = [quantile(0.5), quantile(0.975)]
  // How seldom cold glows are photographed must not make an interval end above them.
  const low = Math.min(quantile(0.025), quantileOfAny(0.025))
  return {
    read,
    low,
    cool: quantile(0.4),
    median,
    high,
    standardUncertainty: (high - low) / (2 * NORMAL_95),
  }
}

const trueOf = (colourTemperatureK: number, { reading }: GlowProblem): number =>
  trueTemperatureFromColourWien(colourTemperatureK, reading.lnSlope, GREEN_NM, RED_NM)

function temperature(
  input: GlowInput,
  posterior: CameraPosterior,
  spread: Spread,
  test: OffLocus,
  tinted: boolean,
  leak: LeakEstimate,
  eye: GlowEstimate['eye'],
  referencesUsed: readonly ReferenceUse[],
  findings: Finding[],
): GlowEstimate {
  const { problem } = posterior
  const temperatureK = trueOf(spread.median, problem)
  const interval95K = [trueOf(spread.low, problem), trueOf(spread.high, problem)] as const
  const expandedUncertaintyK = (interval95K[1] - interval95K[0]) / 2
  const standardUncertaintyK = expandedUncertaintyK / NORMAL_95
  // Colour temperature to true temperature: one factor for all terms.
  const factor = standardUncertaintyK / spread.standardUncertainty
  const terms = budget(posterior, spread.median, spread.standardUncertainty).map((one) =>
    scaledContribution(one, factor),
  )
  if (spread.high >= problem.model.hottestK)
    findings.push({ code: 'beyond range of locus', limitK: HOTTEST_READING_K })
  const { chiSquared, probability, verdict } = test
  return {
    kind: 'temperature',
    temperatureK,
    colourTemperatureK: spread.median,
    standardUncertaintyK,
    expandedUncertaintyK,
    interval95K,
    budget: terms,
    dominant: terms[0]?.term ?? 'camera',
    advice: advice(input, posterior, spread.median, standardUncertaintyK, terms, tinted),
    referencesUsed,
    offLocus: { chiSquared, probability, verdict },
    leak,
    eye,
    findings,
  }
}

/** Green is a bound or the glow too cold: only "not above" can be said. */
function belowRange(
  posterior: CameraPosterior,
  eye: GlowEstimate['eye'],
  findings: Finding[],
): GlowEstimate {
  const bound = trueOf(hottestOfSoLittleGreen(posterior), posterior.problem)
  if (!Number.isFinite(bound)) return { kind: 'no number', reason: 'dark', eye, findings }
  return {
    kind: 'below range',
    upperBoundK: Math.max(bound, COLDEST_READING_K),
    eye,
    findings,
  }
}

/** The reading with one more independent error, as standard uncertainty of its value. */
function widened(problem: GlowProblem, term: BudgetTerm, standardUncertainty: number): GlowProblem {
  const own = [...problem.reading.own, { term, variance: standardUncertainty ** 2 }]
  return { ...problem, reading: { ...problem.reading, own } }
}

/** The reading where foreign light gave blue so much, in units of red, and green about as much. */
function withForeignLight(problem: GlowProblem, excess: number): GlowProblem {
  const { model, colour } = problem
  const { reading } = widened(
    problem,
    'off locus',
    excess / (model.scale === 'log' ? colour.green : 1),
  )
  const { blue } = reading
  const told = blue && { ...blue, variance: blue.variance + (excess * blue.perLight) ** 2 }
  return { ...problem, reading: { ...reading, blue: told } }
}

/** What 1 in ln(G/R) is in the model's value. */
const relativeUnit = ({ model, colour }: GlowProblem): number =>
  model.scale === 'log' ? 1 : Math.abs(colour.green)

/** The slope of a window acts like that of a surface. */
function windowUncertainty(problem: GlowProblem, input: GlowInput): number {
  return (input.window?.standardUncertainty ?? 0) * relativeUnit(problem)
}
