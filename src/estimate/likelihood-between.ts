/**
 * How likely a reading is under one hypothesis, at many temperatures between the few at which the camera
 * is worked out. Numbers in flat arrays and plain loops: this is gone through a million times for a photo.
 */
import { normalDensity } from '../numerics/heavy-tails.ts'
import {
  boundLikelihood,
  colourLikelihood,
  type ReadingResidual,
  widenedByForeign,
} from './reading-residual.ts'

/**
 * Values at points between even nodes, by the cubic through the four nearest: a straight line between
 * nodes some hundred kelvins apart would be off by a tenth of the interval at the hot end.
 *
 * Source: Lagrange's formula, e.g. Abramowitz & Stegun, 25.2.13.
 */
export class Between {
  readonly points: number
  /** First of the four nodes of a point. */
  readonly first: Int32Array
  private readonly weights: Float64Array

  /** @param between points from one node to the next */
  constructor(
    readonly nodes: number,
    readonly between: number,
  ) {
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

/**
 * The most by which a point's cubic leaves the range of its four nodes, in units of that range: what the
 * weights below 0 add up to, largest near the ends of the whole, where the four do not lie around the point.
 */
const OVERSHOOT = 0.4

/** The likelihood of one hypothesis after the other, at the points of a place. */
export class LikelihoodBetween {
  private readonly green: Float64Array
  private readonly greenSd: Float64Array
  private readonly blue: Float64Array
  private readonly blueSd: Float64Array
  private readonly alone: Float64Array
  private readonly foreignSd: Float64Array
  private kind: 'green' | 'bound' | 'both' = 'green'
  private greenPerBlue = 0
  private mostGreen = 0

  /** @param far standard deviations of green beyond which a likelihood counts as 0 */
  constructor(
    private readonly place: Between,
    private readonly far: number,
  ) {
    const column = () => new Float64Array(place.nodes)
    this.green = column()
    this.greenSd = column()
    this.blue = column()
    this.blueSd = column()
    this.alone = column()
    this.foreignSd = column()
  }

  /** @param residuals of the hypothesis, one a node */
  fill(residuals: readonly ReadingResidual[]): void {
    const first = residuals[0]!.blue
    this.kind = first === null ? 'green' : first.bound ? 'bound' : 'both'
    this.greenPerBlue = first?.greenPerBlue ?? 0
    // Only with blue as a value does foreign light widen green.
    this.mostGreen = this.kind === 'both' ? first!.mostGreen : 0
    for (let node = 0; node < residuals.length; node++) {
      const { green, greenSd, blue } = residuals[node]!
      this.green[node] = green
      this.greenSd[node] = greenSd
      if (blue === null) continue
      this.blue[node] = blue.value
      this.blueSd[node] = blue.sd
      this.alone[node] = blue.alone
      this.foreignSd[node] = blue.foreignSd
    }
  }

  /** Tells the likelihood at each point where it is not 0. */
  each(tell: (point: number, likelihood: number) => void): void {
    const { nodes, between, points } = this.place
    for (let node = 0; node < nodes; node++) {
      const from = node * between
      if (this.isFar(this.place.first[from]!)) continue
      const end = Math.min(from + between, points)
      for (let i = from; i < end; i++) {
        const found = this.at(i)
        if (found > 0) tell(i, found)
      }
    }
  }

  /** Whether every point between these four nodes is too far away, so that most are never worked out. */
  private isFar(first: number): boolean {
    const { green, greenSd } = this
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]
    let [least, most] = [Number.POSITIVE_INFINITY, 0]
    for (let node = first; node < first + 4; node++) {
      const value = green[node]!
      const sd = greenSd[node]!
      if (value < low) low = value
      if (value > high) high = value
      if (sd < least) least = sd
      if (sd > most) most = sd
    }
    const nearest = Math.max(low, -high) - OVERSHOOT * (high - low)
    const widest = most + OVERSHOOT * (most - least) + this.mostGreen
    return nearest > this.far * widest
  }

  private at(i: number): number {
    const { place, kind, far } = this
    const green = place.value(this.green, i)
    const greenSd = place.value(this.greenSd, i)
    if (Math.abs(green) > far * (greenSd + this.mostGreen)) return 0
    if (kind === 'green') return normalDensity(green, greenSd)
    const blue = place.value(this.blue, i)
    const blueSd = place.value(this.blueSd, i)
    const foreignSd = place.value(this.foreignSd, i)
    if (kind === 'bound')
      return normalDensity(green, greenSd) * boundLikelihood(blue, blueSd, foreignSd)
    const alone = place.value(this.alone, i)
    const widened = widenedByForeign(greenSd, alone * this.greenPerBlue, this.mostGreen)
    if (Math.abs(green) > far * widened) return 0
    return colourLikelihood(green, greenSd, blue, blueSd, alone, foreignSd, widened)
  }
}
