/**
 * The distribution of a reading's colour temperature: each hypothesis of the camera says how far its
 * green would lie from the measured one at a temperature, and how well blue then fits.
 *
 * Propagation of distributions (JCGM 101:2008). Over the camera without faults the prior is even in
 * what it sees, G/R (or its logarithm), so that without leak and blue the result is that of a plain
 * change of variable.
 */

import { normalDensity } from '../numerics/heavy-tails.ts'
import { type CameraPosterior, normalised } from './camera-posterior.ts'
import { readingEquation } from './glow-equations.ts'
import {
  boundLikelihood,
  colourLikelihood,
  type ReadingResidual,
  residualOf,
  tailLikelihood,
  widenedByForeign,
} from './reading-residual.ts'

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
  readonly reciprocal: number[]
  /** By point: density over the reciprocal temperature, all hypotheses together. */
  readonly density: number[]
  /** The same, were cold glows in sight of good filters as usual as others. */
  readonly ofAny: number[]
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
    const equations = nodes.map((kelvin) =>
      problem.curves.map((_, curve) =>
        problem.cameras.map((_, camera) =>
          lazily(() => readingEquation(problem, kelvin, curve, camera)),
        ),
      ),
    )
    const slopes = nodes.map(
      (kelvin) => problem.model.green(kelvin).slope * kelvin * kelvin * seldomBelow(kelvin),
    )
    const place = new Between(count, between)
    const { points } = place
    this.reciprocal = Array.from({ length: points }, (_, i) => from + (i * step) / between)
    this.density = new Array<number>(points).fill(0)
    this.ofAny = new Array<number>(points).fill(0)
    const seldom = this.reciprocal.map((reciprocal) => seldomBelow(1 / reciprocal))
    this.masses = []
    this.beyondCold = []
    this.beyondColdOfAny = []
    this.beyondHot = []
    const flat = new Flat(count)
    for (const [index, hypothesis] of hypotheses.entries()) {
      if (leftOut[index]) {
        this.masses.push(0)
        continue
      }
      const { weight, curve, camera } = hypothesis
      const at = equations.map((both) => residualOf(both[curve]![camera]!(), hypothesis))
      flat.fill(at)
      const good = problem.cameras[camera]!.leak.mean < GOOD_FILTER
      let mass = 0
      for (let i = 0; i < points; i++) {
        const value = weight * place.value(slopes, i) * flat.likelihood(place, i, far)
        this.density[i]! += value
        this.ofAny[i]! += value / (good ? seldom[i]! : 1)
        mass += value
      }
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

/** One hypothesis at all nodes, numbers in flat arrays: this is gone through a million times for a photo. */
class Flat {
  private readonly columns: readonly Float64Array[]
  private kind: 'green' | 'bound' | 'both' = 'green'
  private greenPerBlue = 0
  private mostGreen = 0

  constructor(count: number) {
    this.columns = Array.from({ length: 6 }, () => new Float64Array(count))
  }

  fill(residuals: readonly ReadingResidual[]): void {
    const first = residuals[0]!.blue
    this.kind = first === null ? 'green' : first.bound ? 'bound' : 'both'
    this.greenPerBlue = first?.greenPerBlue ?? 0
    this.mostGreen = first?.mostGreen ?? 0
    for (const [node, { green, greenSd, blue }] of residuals.entries()) {
      const row = [green, greenSd, blue?.value, blue?.sd, blue?.alone, blue?.foreignSd]
      for (const [c, value] of row.entries()) this.columns[c]![node] = value ?? 0
    }
  }

  /** At a point; 0 where green is further than `far` standard deviations away. */
  likelihood(place: Between, i: number, far: number): number {
    const { columns, kind } = this
    const green = place.value(columns[0]!, i)
    const greenSd = place.value(columns[1]!, i)
    if (kind === 'green') return Math.abs(green) > far * greenSd ? 0 : normalDensity(green, greenSd)
    const value = place.value(columns[2]!, i)
    const sd = place.value(columns[3]!, i)
    const foreignSd = place.value(columns[5]!, i)
    if (kind === 'bound') {
      if (Math.abs(green) > far * greenSd) return 0
      return normalDensity(green, greenSd) * boundLikelihood(value, sd, foreignSd)
    }
    const alone = place.value(columns[4]!, i)
    const widened = widenedByForeign(greenSd, alone * this.greenPerBlue, this.mostGreen)
    if (Math.abs(green) > far * widened) return 0
    return colourLikelihood(green, greenSd, value, sd, alone, foreignSd, widened)
  }
}

/**
 * Values at points between even nodes, by the cubic through the four nearest: a straight line between
 * nodes some hundred kelvins apart would be off by a tenth of the interval at the hot end.
 *
 * Source: Lagrange's formula, e.g. Abramowitz & Stegun, 25.2.13.
 */
class Between {
  readonly points: number
  private readonly first: Int32Array
  private readonly weights: Float64Array

  constructor(nodes: number, between: number) {
    this.points = (nodes - 1) * between + 1
    this.first = new Int32Array(this.points)
    this.weights = new Float64Array(4 * this.points)
    for (let i = 0; i < this.points; i++) {
      const first = Math.min(Math.max(Math.floor(i / between) - 1, 0), nodes - 4)
      const p = i / between - first
      this.first[i] = first
      this.weights.set(
        [
          -((p - 1) * (p - 2) * (p - 3)) / 6,
          (p * (p - 2) * (p - 3)) / 2,
          -(p * (p - 1) * (p - 3)) / 2,
          (p * (p - 1) * (p - 2)) / 6,
        ],
        4 * i,
      )
    }
  }

  value(list: ArrayLike<number>, i: number): number {
    const { weights } = this
    const at = this.first[i]!
    const w = 4 * i
    return (
      weights[w]! * list[at]! +
      weights[w + 1]! * list[at + 1]! +
      weights[w + 2]! * list[at + 2]! +
      weights[w + 3]! * list[at + 3]!
    )
  }
}

/** What a hypothesis gives to temperatures beyond an end of the locus, where green runs on as it does. */
function beyond(end: ReadingResidual, before: ReadingResidual, side: 1 | -1): number {
  const runsOn = side * (before.green - end.green) > 0
  return runsOn ? tailLikelihood(end, side) : 0
}

const lazily = <T>(make: () => T): (() => T) => {
  let made: T | undefined
  return () => {
    made ??= make()
    return made
  }
}

function distributionOf(slice: Slice, whole: Slice): TemperatureDistribution {
  const { reciprocal, density: heights, posterior } = slice
  const step = Math.abs(reciprocal[1]! - reciprocal[0]!)
  const sum = (list: readonly number[]) => list.reduce((total, value) => total + value, 0)
  const cold = sum(whole.beyondCold)
  const hot = sum(whole.beyondHot)
  const { coldestK, hottestK } = posterior.problem.model
  const quantilesOf = (density: readonly number[], beyondCold: number) => {
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
