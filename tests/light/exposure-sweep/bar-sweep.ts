/** Sweeps of one glowing bar whose truth is known, and what is asked of their measurement. */
import { expect } from 'vitest'
import { measureSweep } from '../../../src/light/exposure-sweep/measure-sweep.ts'
import type {
  SweepMeasurement,
  SweepResult,
} from '../../../src/light/exposure-sweep/sweep-result.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { lightFor, REGION, type SweepScene, sweepOf, toneOf } from './sweeps.ts'

export const LOSSLESS = { steps: { luma: 1, chroma: 1 } }
export const CHANNEL = toneOf('channel', 1.12, 0.55)
export const RATIO = toneOf('ratio', 0.88, 0.55)
export const TRUTH = Math.log(0.1)

/** A glow of 1173 K in Display P3, brightest just below clipping. */
export function glow(tone = CHANNEL, greenOverRed = 0.1): Triple {
  const red = lightFor(tone, 0.9)
  return [red, greenOverRed * red, 0.03 * red]
}
export const sweep = (scene: Partial<SweepScene> = {}) =>
  measureSweep(
    sweepOf({ tone: CHANNEL, light: glow(scene.tone ?? CHANNEL), ...scene }),
    REGION,
    LOSSLESS,
  )

export function measured(result: SweepResult): SweepMeasurement {
  if (result.kind === 'refused') {
    expect.fail(`refused: ${result.reason} ${JSON.stringify(result.values)}`)
  }
  return result
}
export const ratioOf = ({ glow: g }: SweepMeasurement) => Math.log(g.mean[1] / g.mean[0])
export const codes = (m: SweepMeasurement) => m.findings.map((f) => f.code)
/** ln(G/R) rises by 0.0029 a kelvin at 1173 K (Planck, CIE 1931, Display P3). */
export const KELVIN = 0.0029
