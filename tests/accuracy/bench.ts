/** Runs the conditions over a set of cameras. */
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { Finding, GlowEstimate } from '../../src/estimate/types.ts'
import { simulateCamera } from '../../src/light/simulate/simulated-camera.ts'
import type { TestSet } from './cameras.ts'
import { cieLocusReading } from './cie-locus.ts'
import { CIE_LOCUS, CONDITIONS, type Condition, drawInputs } from './conditions.ts'
import type { Sensor } from './photograph.ts'
import { seeded } from './random.ts'
import { type Outcome, Score, type ScoreRow } from './score.ts'

export const TEMPERATURES_K = [1000, 1073.6, 1173, 1250, 1357.8, 1450, 1600]

export interface ConditionResult {
  readonly name: string
  readonly rows: readonly ScoreRow[]
}

export interface BenchOptions {
  readonly draws: number
  readonly sensor: Sensor
  readonly temperaturesK: readonly number[]
  readonly conditions?: readonly Condition[]
}

/** Findings after which nobody trusts the number. */
const WARNINGS: ReadonlySet<Finding['code']> = new Set([
  'off locus',
  'reference conflicts',
  'beyond range of locus',
])

export function outcomeOf(estimate: GlowEstimate): Outcome {
  if (estimate.kind === 'no number') return { kind: 'no number' }
  if (estimate.kind === 'below range') return estimate
  const [low, high] = estimate.interval95K
  const warned = estimate.findings.some(({ code }) => WARNINGS.has(code))
  return { kind: 'temperature', temperatureK: estimate.temperatureK, low, high, warned }
}

/** Each camera draws its own numbers for each condition, whatever other conditions are run. */
export const seedOf = (camera: number, condition: string, draw: number): number => {
  let hash = 2166136261
  for (const char of `${camera} ${condition} ${draw}`)
    hash = Math.imul(hash ^ char.charCodeAt(0), 16777619)
  return hash >>> 0
}

export function runBench(set: TestSet, options: BenchOptions): ConditionResult[] {
  const { temperaturesK, draws, sensor, conditions = CONDITIONS } = options
  return conditions.map((condition) => {
    const scores = temperaturesK.map((temperatureK) => new Score(temperatureK))
    for (const [index, { name, sensitivity, locus }] of set.cameras.entries()) {
      const simulated = simulateCamera(sensitivity, set.training, condition.balance)
      for (let draw = 0; draw < draws; draw++) {
        const random = seeded(seedOf(index, condition.name, draw))
        const inputs = drawInputs({ name, simulated }, condition, temperaturesK, sensor, random)
        for (const [i, input] of inputs.entries())
          scores[i]!.add(
            condition.name === CIE_LOCUS
              ? cieLocusReading(input, locus)
              : outcomeOf(estimateGlow(input, locus)),
          )
      }
    }
    return { name: condition.name, rows: scores.map((score) => score.row()) }
  })
}
