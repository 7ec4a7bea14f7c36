/** What the way from stored code to linear light does to a level of red, and what levels share of it. */
import { levelCorrection } from './tone-curve-prior.ts'
import type { GlowInput, LevelConditions } from './types.ts'

/** An error of ln(level): in common where the keys are the same. */
export interface LevelError {
  readonly key: string
  readonly standardUncertainty: number
}

/** Of a factor that is not known at all. */
const FREE = { standardUncertainty: 100 } as const

/** What the way from code to light does to ln(red). */
export interface Bend {
  readonly correction: number
  readonly variance: number
  readonly shared: readonly LevelError[]
}

const STRAIGHT: Bend = { correction: 0, variance: 0, shared: [] }

/** Null where a tone curve is neither known nor the same for all. A curve fixes light up to a factor. */
export function bendOf(
  { linearity, glow }: Pick<GlowInput, 'glow' | 'linearity'>,
  { stream }: LevelConditions,
): Bend | null {
  switch (linearity.kind) {
    case 'sweep': {
      const { curveId, standardUncertaintyGreen, ownUncertainty = 0 } = linearity
      const [r, g] = glow.mean
      // Levels err apart as green does from red of one photo, in proportion to how far they are apart.
      const apart = g > 0 && g < r ? Math.log(r / g) : 1
      const byLevel = (standardUncertaintyGreen * Math.log(r)) / apart
      return {
        correction: 0,
        variance: ownUncertainty ** 2,
        shared: [
          { key: `scale ${curveId}`, ...FREE },
          { key: `bend ${curveId}`, standardUncertainty: byLevel },
        ],
      }
    }
    case 'single': {
      const { curveId, storedLevels } = linearity
      if (!stream || !(storedLevels[0] > 0)) return null
      const { mean, contrast, shoulder } = levelCorrection(storedLevels[0])
      return {
        correction: mean,
        variance: 0,
        shared: [
          { key: `scale ${curveId}`, ...FREE },
          { key: `contrast ${curveId}`, standardUncertainty: contrast },
          { key: `shoulder ${curveId}`, standardUncertainty: shoulder },
        ],
      }
    }
    default:
      return STRAIGHT
  }
}
