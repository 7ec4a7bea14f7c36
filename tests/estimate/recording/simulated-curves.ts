import type { HeatCurve } from '../../../src/estimate/recording/heat-curve.ts'
import { type Random, seeded } from '../../accuracy/random.ts'

export interface SimulatedCurve {
  readonly curve: HeatCurve
  /** Seconds between which the temperature stands; null without. */
  readonly plateau: readonly [number, number] | null
  readonly levelK: number
}

export interface Simulation {
  readonly random: Random
  readonly plateau: boolean
  /** Standard deviation of a reading, K. */
  readonly noiseK?: number
  readonly undercoolingK?: number
}

/**
 * A body that cools or warms by Newton's or the radiative law, with or without a latent heat on the
 * way: the clock of the law stands while heat is given off. Read 1 to 10 times a second with noise.
 */
export function simulatedCurve({
  random,
  plateau,
  noiseK = 0.5 + 1.5 * random.uniform(),
  undercoolingK = 0,
}: Simulation): SimulatedCurve {
  const heating = undercoolingK === 0 && random.uniform() < 0.3
  const radiative = !heating && random.uniform() < 0.5
  const rate = 1 + 9 * random.uniform()
  const perSecond = 1 + 9 * random.uniform()
  const duration = 40 + 80 * random.uniform()
  const span = 1350 - 950
  const tau = span / rate
  const law = (t: number) => {
    if (heating) return 1450 - 500 * Math.exp(-t / tau)
    if (radiative) return (1350 ** -3 + (3 * rate * t) / 1350 ** 4) ** (-1 / 3)
    return 300 + 1050 * Math.exp((-t * rate) / 1050)
  }
  const long = 6 + 20 * random.uniform()
  const begin = (0.25 + 0.35 * random.uniform()) * (duration - long)
  const levelK = law(begin)
  const dipTo =
    undercoolingK > 0
      ? undercoolingK / Math.max(Math.abs(law(begin + 0.5) - law(begin - 0.5)), 0.5)
      : 0
  const truth = (t: number) => {
    if (!plateau || t <= begin) return law(t)
    // Falls on past the level, then comes back within a second.
    if (t <= begin + dipTo) return law(t)
    const back = begin + dipTo + 1
    if (t < back) return law(begin + dipTo) + (levelK - law(begin + dipTo)) * (t - begin - dipTo)
    if (t <= back + long || undercoolingK === 0)
      return t <= begin + long ? levelK : undercoolingK === 0 ? law(t - long) : levelK
    return law(begin + t - back - long)
  }
  const count = Math.round(duration * perSecond)
  const seconds = Float64Array.from({ length: count }, (_, i) => i / perSecond)
  const temperatureK = seconds.map((t) => truth(t) + noiseK * random.normal())
  const start = undercoolingK > 0 ? begin + dipTo + 1 : begin
  return {
    curve: {
      seconds,
      temperatureK,
      noiseK: seconds.map(() => noiseK),
      commonK: seconds.map(() => 8),
    },
    plateau: plateau ? [start, start + long] : null,
    levelK,
  }
}

export interface Made {
  readonly count?: number
  readonly step?: number
  readonly noiseK?: number
  readonly commonK?: number
  readonly seed?: number
}
/** Readings of a given course, without noise unless said. */
export function curveOf(
  truth: (t: number) => number,
  { count = 200, step = 0.5, noiseK = 0, commonK = 0, seed = 1 }: Made = {},
): HeatCurve {
  const random = seeded(seed)
  const seconds = Float64Array.from({ length: count }, (_, i) => i * step)
  return {
    seconds,
    temperatureK: seconds.map((t) => truth(t) + noiseK * random.normal()),
    noiseK: seconds.map(() => noiseK),
    commonK: seconds.map(() => commonK),
  }
}
/** Root mean square over many draws. */
export const rmsOf = (of: (seed: number) => number, draws = 60) =>
  Math.sqrt(
    Array.from({ length: draws }, (_, i) => of(i + 1) ** 2).reduce((a, b) => a + b, 0) / draws,
  )
