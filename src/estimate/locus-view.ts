/** How the camera's locus narrows with its references: bands and points to draw. */

import { normalCdf } from '../numerics/heavy-tails.ts'
import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { type CameraPosterior, cameraPosterior, mostProbable } from './camera-posterior.ts'
import { type GlowProblem, glowProblem } from './glow-problem.ts'
import { idealGlow } from './ideal-glow.ts'
import type { GlowInput, LocusBand, LocusView } from './types.ts'

/** What a kit knows of one camera in one state: a reading's input without the reading. */
export type LocusViewInput = Pick<
  GlowInput,
  'channels' | 'cameraToXyz' | 'balanceState' | 'cameraId' | 'references'
>

const COLDEST_K = 900
const HOTTEST_K = 3000
const POINTS = 40

/**
 * Bands of G/R of a grey body, 900 to 3000 K: of cameras in general and of this one. Only references
 * that count for this camera and state are in it (see {@link referenceStatus} in glow-problem).
 */
export function locusView(input: LocusViewInput, locus: CameraLocus = CAMERA_LOCUS): LocusView {
  const problem = glowProblem(standIn(input), locus)
  const before = cameraPosterior({ ...problem, references: [] })
  const after = cameraPosterior(problem)
  return {
    prior: band(mostProbable(before)),
    posterior: band(mostProbable(after)),
    references: problem.references.map(({ reference, colour, colourTemperatureK }) => ({
      id: reference.id,
      temperatureK: colourTemperatureK,
      standardUncertaintyK: reference.standardUncertaintyK,
      greenOverRed: colour.green,
      standardUncertainty: Math.sqrt(colour.greenVariance.pixel + colour.greenVariance.balance),
    })),
  }
}

/** An input without information, where one is required. */
function standIn(input: LocusViewInput): GlowInput {
  return {
    ...input,
    ...idealGlow([1, 0.1, 0.01]),
    balance: null,
    linearity: { kind: 'linear' },
    surface: { id: '', lnGreenOverRed: 0, standardUncertainty: 0 },
  }
}

function band(posterior: CameraPosterior): LocusBand {
  const { problem } = posterior
  const temperatureK = Array.from(
    { length: POINTS },
    (_, i) => 1 / (1 / HOTTEST_K + (1 - i / (POINTS - 1)) * (1 / COLDEST_K - 1 / HOTTEST_K)),
  )
  const spreads = temperatureK.map((kelvin) => spreadAt(posterior, problem, kelvin))
  return {
    temperatureK,
    median: spreads.map(([, median]) => median),
    low95: spreads.map(([low]) => low),
    high95: spreads.map(([, , high]) => high),
  }
}

/** 2.5, 50 and 97.5 % of the camera's G/R at a temperature. */
function spreadAt(
  { hypotheses }: CameraPosterior,
  problem: GlowProblem,
  temperatureK: number,
): [number, number, number] {
  const cameras = problem.cameras.map(({ model }) => {
    const { mean, loadings } = model.green(temperatureK)
    return { mean, loading: problem.coefficients.map((_, k) => loadings[k] ?? 0) }
  })
  const parts = hypotheses.map(({ conditioned, camera, weight }) => {
    const { mean, loading } = cameras[camera]!
    const seen = conditioned.predict(loading)
    const variance = conditioned.covarianceOf(loading, loading, seen, seen)
    return { weight, mean: mean + seen.mean, sd: Math.sqrt(variance) + 1e-9 }
  })
  const lowest = Math.min(...parts.map((part) => part.mean - 8 * part.sd))
  const highest = Math.max(...parts.map((part) => part.mean + 8 * part.sd))
  const at = (probability: number) => {
    let low = lowest
    let high = highest
    for (let i = 0; i < 40; i++) {
      const middle = (low + high) / 2
      const below = parts.reduce(
        (sum, part) => sum + part.weight * normalCdf((middle - part.mean) / part.sd),
        0,
      )
      if (below < probability) low = middle
      else high = middle
    }
    const value = (low + high) / 2
    return problem.model.scale === 'log' ? Math.exp(value) : value
  }
  return [at(0.025), at(0.5), at(0.975)]
}
