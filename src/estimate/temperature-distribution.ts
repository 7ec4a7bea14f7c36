/**
 * The distribution of a reading's colour temperature: each hypothesis of the camera says how far its
 * green would lie from the measured one at a temperature, and how well blue then fits.
 *
 * Propagation of distributions (JCGM 101:2008). Over the camera without faults the prior is even in
 * what it sees, G/R (or its logarithm), so that without leak and blue the result is that of a plain
 * change of variable.
 */

import { type CameraPosterior, normalised } from './camera-posterior.ts'
import { type ReadingEquation, readingEquation } from './glow-equations.ts'
import { Between, LikelihoodBetween } from './likelihood-between.ts'
import { type ReadingResidual, residualOf, tailLikelihood } from './reading-residual.ts'

/**
 * Steps over the whole range, then over the part that matters, each with finer ones between; how many
 * standard deviations away a hypothesis still adds something.
 */
const WHOLE = { nodes: 17, between: 10, far: 12 }
const PART = { nodes: 21, between: 12, far: 6 }
/** Parts whose density is below the largest by this factor are left out. */
const NEGLIGIBLE = 1e-4
/** Hypotheses of a smaller share in all are not looked at closer. */
const LEAST_SHARE = 1e-7

export interface TemperatureDistribution {
  /** K; an end of the locus where it lies beyond. */
  quantile(probability: number): number
  /** The same, were glows below the range of readings photographed as often as others. */
  quantileOfAny(probability: number): number
  /** The hypotheses, weighted by how well they fit the reading too. */
  readonly posterior: CameraPosterior
}

/** @param steps of the closer look; tests hold the usual ones against finer ones */
export function temperatureDistribution(
  posterior: CameraPosterior,
  steps = PART,
): TemperatureDistribution {
  const { coldestK, hottestK } = posterior.problem.model
  const whole = new Slice(posterior, 1 / coldestK, 1 / hottestK, WHOLE)
  const part = whole.heavyPart()
  const slice =
    part === null ? whole : new Slice(posterior, part.from, part.to, steps, whole.negligible())
  return distributionOf(slice, whole)
}

/**
 * A glow that shows in an ordinary exposure is seldom colder than the range of readings: its light
 * falls tenfold in 80 K there (Wien, 600 nm). Without this any dull colour could be infrared alone.
 */
const SELDOM_BELOW = { kelvin: 880, fall: 40 }
const GOOD_FILTER = 1e-4
export const seldomBelow = (kelvin: number): number =>
  Math.exp(Math.min(kelvin - SELDOM_BELOW.kelvin, 0) / SELDOM_BELOW.fall)

/** Densities of all hypotheses between two reciprocal temperatures. */
class Slice {
  /** 1/K, from cold to hot. */
  readonly reciprocal: Float64Array
  /** By point: density over the reciprocal temperature, all hypotheses together. */
  readonly density: Float64Array
  /** The same, were cold glows in sight of good filters as usual as others. */
  readonly ofAny: Float64Array
  /** By hypothesis: its integral here. */
  readonly masses: number[]
  readonly beyondCold: number[]
  readonly beyondColdOfAny: number[]
  readonly beyondHot: number[]

  constructor(
    readonly posterior: CameraPosterior,
    readonly from: number,
    readonly to: number,
    steps: typeof WHOLE,
    leftOut: readonly boolean[] = [],
  ) {
    const { nodes: count, between, far } = steps
    const { problem, hypotheses } = posterior
    const step = (to - from) / (count - 1)
    const nodes = Array.from({ length: count }, (_, i) => 1 / (from + i * step))
    /** By tone curve and camera, one a node; worked out for those that some hypothesis asks for. */
    const equations: (readonly ReadingEquation[] | undefined)[] = []
    const slopes = nodes.map(
      (kelvin) => problem.model.green(kelvin).slope * kelvin * kelvin * seldomBelow(kelvin),
    )
    const place = new Between(count, between)
    const { points } = place
    const prior = Float64Array.from({ length: points }, (_, i) => place.value(slopes, i))
    this.reciprocal = Float64Array.from({ length: points }, (_, i) => from + (i * step) / between)
    this.density = new Float64Array(points)
    this.ofAny = new Float64Array(points)
    const seldom = this.reciprocal.map((reciprocal) => seldomBelow(1 / reciprocal))
    this.masses = []
    this.beyondCold = []
    this.beyondColdOfAny = []
    this.beyondHot = []
    const likelihood = new LikelihoodBetween(place, far)
    for (const [index, hypothesis] of hypotheses.entries()) {
      if (leftOut[index]) {
        this.masses.push(0)
        continue
      }
      const { weight, curve, camera } = hypothesis
      const pair = curve * problem.cameras.length + camera
      equations[pair] ??= nodes.map((kelvin) => readingEquation(problem, kelvin, curve, camera))
      const at = equations[pair].map((equation) => residualOf(equation, hypothesis))
      const good = problem.cameras[camera]!.leak.mean < GOOD_FILTER
      let mass = 0
      likelihood.fill(at)
      likelihood.each((i, found) => {
        const value = weight * prior[i]! * found
        this.density[i]! += value
        this.ofAny[i]! += value / (good ? seldom[i]! : 1)
        mass += value
      })
      this.masses.push((mass * Math.abs(step)) / between)
      const colder = weight * beyond(at[0]!, at[1]!, -1)
      const rare = seldomBelow(nodes[0]!)
      this.beyondCold.push(colder * rare)
      this.beyondColdOfAny.push(colder * (good ? 1 : rare))
      this.beyondHot.push(weight * beyond(at[count - 1]!, at[count - 2]!, 1))
    }
  }

  /** By hypothesis: whether it adds next to nothing. */
  negligible(): readonly boolean[] {
    const all = this.masses.map((mass, i) => mass + this.beyondCold[i]! + this.beyondHot[i]!)
    const least = LEAST_SHARE * all.reduce((sum, mass) => sum + mass, 0)
    return all.map((mass) => mass < least)
  }

  /** Where the density is worth a closer look, with a margin; null where none is. */
  heavyPart(): { readonly from: number; readonly to: number } | null {
    const least = NEGLIGIBLE * Math.max(...this.density)
    const first = this.density.findIndex((value) => value > least)
    if (first < 0) return null
    const last = this.density.findLastIndex((value) => value > least)
    const end = this.density.length - 1
    return {
      from: this.reciprocal[Math.max(first - 2, 0)]!,
      to: this.reciprocal[Math.min(last + 2, end)]!,
    }
  }
}

/** What a hypothesis gives to temperatures beyond an end of the locus, where green runs on as it does. */
function beyond(end: ReadingResidual, before: ReadingResidual, side: 1 | -1): number {
  const runsOn = side * (before.green - end.green) > 0
  return runsOn ? tailLikelihood(end, side) : 0
}

function distributionOf(slice: Slice, whole: Slice): TemperatureDistribution {
  const { reciprocal, density: heights, posterior } = slice
  const step = Math.abs(reciprocal[1]! - reciprocal[0]!)
  const sum = (list: readonly number[]) => list.reduce((total, value) => total + value, 0)
  const cold = sum(whole.beyondCold)
  const hot = sum(whole.beyondHot)
  const { coldestK, hottestK } = posterior.problem.model
  const quantilesOf = (density: Float64Array, beyondCold: number) => {
    /** Probability below each point, coldest first. */
    const below: number[] = [beyondCold]
    for (let i = 1; i < density.length; i++)
      below.push(below[i - 1]! + 0.5 * step * (density[i - 1]! + density[i]!))
    const total = below.at(-1)! + hot
    return (probability: number): number => {
      const wanted = probability * total
      if (!(wanted > beyondCold)) return coldestK
      const above = below.findIndex((value) => value >= wanted)
      if (above < 0) return hottestK
      const [low, high] = [below[above - 1]!, below[above]!]
      const share = (wanted - low) / (high - low)
      return 1 / (reciprocal[above - 1]! + share * (reciprocal[above]! - reciprocal[above - 1]!))
    }
  }
  const masses = posterior.hypotheses.map((_, i) =>
    Math.log(slice.masses[i]! + whole.beyondCold[i]! + whole.beyondHot[i]!),
  )
  const weights = normalised(masses)
  return {
    quantile: quantilesOf(heights, cold),
    quantileOfAny: quantilesOf(slice.ofAny, sum(whole.beyondColdOfAny)),
    posterior: {
      ...posterior,
      hypotheses: posterior.hypotheses.map((one, i) => ({ ...one, weight: weights[i]! })),
    },
  }
}
