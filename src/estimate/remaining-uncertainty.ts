/** What is left of the uncertainty of a camera's readings, by cause, and what the next step would bring. */
import type { Matrix3 } from '../numerics/matrix3.ts'
import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { estimateGlow } from './estimate-glow.ts'
import { lnRedOver } from './level-equation.ts'
import { type PredictedPhoto, predictingPhoto, type ReadingLike } from './predicted-uncertainty.ts'
import { referenceLike } from './reference-like.ts'
import type {
  BalanceState,
  Contribution,
  GlowInput,
  KnownHeatReference,
  LevelConditions,
} from './types.ts'

/**
 * Steps that a person can take next.
 * - salt, copper: photograph it as it melts; salt as bright: the same, and readings with its exposure and
 *   place in the picture, so that brightness joins
 * - lock: set the white balance and see that it holds; known heats count only then, so that it is part
 *   of their steps
 * - straight light: raw pixels or an exposure sweep
 * - grey card: photographed in daylight with the same lock
 * - hole: read a drilled hole, whose surface is black
 */
export type MeasuringStep =
  | 'salt'
  | 'salt as bright'
  | 'copper'
  | 'straight light'
  | 'lock'
  | 'grey card'
  | 'hole'

export interface RemainingUncertainty {
  readonly temperatureK: number
  /** Standard uncertainty now, K; null where such a reading has no number. */
  readonly nowK: number | null
  /** By cause, largest first; squares add up to that of now. */
  readonly causes: readonly Contribution[]
  /** Standard uncertainty after each step alone, K; steps that are done already are left out. */
  readonly after: readonly { readonly step: MeasuringStep; readonly standardUncertaintyK: number }[]
}

/** As in the kit: table salt, copper in open air, with what watching the melt leaves open. */
const MELTS: Partial<
  Record<MeasuringStep, { temperatureK: number; standardUncertaintyK: number }>
> = {
  salt: { temperatureK: 1073.6, standardUncertaintyK: 6 },
  'salt as bright': { temperatureK: 1073.6, standardUncertaintyK: 6 },
  copper: { temperatureK: 1357.8, standardUncertaintyK: 8 },
}
/** A known heat this close to a melt makes another of it hardly worth while, K. */
const SAME_HEAT_K = 25
const STEPS: readonly MeasuringStep[] = [
  'straight light',
  'lock',
  'grey card',
  'salt',
  'salt as bright',
  'copper',
  'hole',
]
const EXPOSURE: LevelConditions = { exposureSeconds: 0.01, iso: 100, fNumber: 2, fieldRadius: 0 }

/**
 * Column by column, with a pause after each estimate.
 *
 * @param like a photo by the camera, with the known heats that it has
 */
export function* remainingUncertainty(
  like: ReadingLike,
  temperaturesK: readonly number[],
  locus: CameraLocus = CAMERA_LOCUS,
): Generator<void, RemainingUncertainty[]> {
  const locked = isLocked(like)
  const fixed: ReadingLike = locked ? like : { ...like, balanceState: LOCKED }
  const melts = new Map<MeasuringStep, PredictedPhoto>()
  for (const step of STEPS) {
    const melt = MELTS[step]
    if (!melt || isDone(step, like)) continue
    const photo = yield* predictingPhoto(fixed, melt.temperatureK, null, locus)
    if (photo) melts.set(step, photo)
  }
  const columns: RemainingUncertainty[] = []
  for (const temperatureK of temperaturesK) {
    const photo = yield* predictingPhoto(like, temperatureK, null, locus)
    if (!photo) {
      columns.push({ temperatureK, nowK: null, causes: [], after: [] })
      continue
    }
    const held = locked
      ? photo
      : yield* predictingPhoto(fixed, temperatureK, null, locus, ...HELD_CLOSE_K)
    const after: { step: MeasuringStep; standardUncertaintyK: number }[] = []
    for (const step of STEPS) {
      if (isDone(step, like)) continue
      const base = step === 'lock' || step in MELTS ? held : photo
      const input = base && afterStep(step, base.input, temperatureK, melts)
      if (!input) continue
      const estimate = estimateGlow(input, locus)
      yield
      if (estimate.kind !== 'temperature') continue
      after.push({ step, standardUncertaintyK: estimate.standardUncertaintyK })
    }
    const { standardUncertaintyK, budget } = photo.estimate
    columns.push({ temperatureK, nowK: standardUncertaintyK, causes: budget, after })
  }
  return columns
}

function isDone(step: MeasuringStep, like: ReadingLike): boolean {
  switch (step) {
    case 'straight light':
      return like.linearity.kind !== 'single'
    case 'lock':
      return isLocked(like)
    case 'grey card':
      return like.balance !== null
    case 'hole':
      return like.surface.standardUncertainty === 0
    case 'salt as bright':
      return false
    default:
      return like.references.some(
        ({ temperatureK, cameraId }) =>
          cameraId === like.cameraId &&
          Math.abs(temperatureK - MELTS[step]!.temperatureK) < SAME_HEAT_K,
      )
  }
}

const isLocked = ({ balanceState: { kind } }: ReadingLike) =>
  kind !== 'automatic' && kind !== 'unknown'
/**
 * How near a photo by another balance should, and must, come to the temperature: with a tone curve that
 * is not known the estimate jumps by more than the photo moves, and its ± is hundreds of kelvin.
 */
const HELD_CLOSE_K = [15, 80] as const
const LOCKED: BalanceState = { kind: 'daylight', colourTemperatureK: null, lock: 'verified' }

/** The same photo after the step; null where it cannot be supposed. */
function afterStep(
  step: MeasuringStep,
  input: GlowInput,
  temperatureK: number,
  melts: ReadonlyMap<MeasuringStep, PredictedPhoto>,
): GlowInput | null {
  switch (step) {
    case 'straight light':
      return { ...input, linearity: { kind: 'linear' } }
    case 'hole':
      return { ...input, surface: { id: 'cavity', lnGreenOverRed: 0, standardUncertainty: 0 } }
    case 'lock':
      return input
    case 'grey card':
      return { ...input, balance: DAYLIGHT_CARD }
    case 'salt':
    case 'copper': {
      const melt = melts.get(step)
      return melt ? { ...input, references: [...input.references, meltOf(step, melt)] } : null
    }
    case 'salt as bright': {
      const melt = melts.get(step)
      if (!melt) return null
      const reference = meltOf(step, melt)
      // As bright against the melt as their temperatures are, in one exposure.
      const brighter = lnRedOver(input.channels, temperatureK, reference.temperatureK)
      const by = (reference.glow.mean[0] / input.glow.mean[0]) * Math.exp(brighter)
      return {
        ...input,
        linearity: straight(input),
        glow: scaled(input.glow, by),
        level: EXPOSURE,
        references: [
          ...input.references,
          { ...reference, linearity: straight(input), level: EXPOSURE },
        ],
      }
    }
  }
}

/** Brightness needs straight light. */
const straight = ({ linearity }: GlowInput): GlowInput['linearity'] =>
  linearity.kind === 'single' ? { kind: 'linear' } : linearity

const DAYLIGHT_CARD: GlowInput['balance'] = {
  id: 'supposed card',
  logGains: [0, 0, 0],
  covariance: [
    [0, 0, 0],
    [0, 1e-5, 0],
    [0, 0, 1e-5],
  ],
  light: { kind: 'daylight', colourTemperatureK: 6504, standardUncertaintyK: 200 },
}

const meltOf = (step: MeasuringStep, { input }: PredictedPhoto): KnownHeatReference =>
  referenceLike(input, { id: `supposed ${step}`, name: step, takenAt: '', ...MELTS[step]! })

const scaled = ({ mean, covariance }: GlowInput['glow'], by: number): GlowInput['glow'] => ({
  mean: [mean[0] * by, mean[1] * by, mean[2] * by],
  covariance: covariance.map((row) => row.map((v) => v * by * by)) as unknown as Matrix3,
})
