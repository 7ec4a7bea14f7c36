/** The uncertainty that a camera's readings would have now, and after each missing step. */
import { CAMERA_LOCUS } from '../../estimate/estimate-glow.ts'
import { linearityByCurve } from '../../estimate/linearity-by-curve.ts'
import { predictingPhoto, type ReadingLike } from '../../estimate/predicted-uncertainty.ts'
import { referenceLike } from '../../estimate/reference-like.ts'
import type {
  BalanceState,
  GreyBalance,
  KnownHeatReference,
  Linearity,
} from '../../estimate/types.ts'
import type { CardLightId } from '../../light/card-light.ts'
import { curveAge } from '../../light/exposure-sweep/curve-ageing.ts'
import { codesFromLight } from '../../light/exposure-sweep/tone-curve.ts'
import { balanceFromGrey } from '../../light/grey-reference.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import { type FixedPointId, fixedPointTemperature } from '../../physics/fixed-points.ts'
import { kelvinFromCelsius } from '../../physics/units.ts'
import { LAMP_ON_CARD } from '../reading/find-card.ts'
import { surfaceOf } from '../reading/glow-input.ts'
import type { StepId } from './camera-data.ts'
import { type CameraProfile, cardOf, piecesOf } from './camera-profile.ts'
import { SHOWN_AT_K } from './capture-model.ts'
import { nearestMelt } from './nearest-melt.ts'
import { STEPS_OF_WAY, wayOf } from './ready-way.ts'
import type { StoredCurve } from './stored-items.ts'

/** Standard uncertainties at {@link SHOWN_AT_K}, K; null where a reading would have no number. */
export interface CameraPrediction {
  readonly nowK: number | null
  /** With all steps of its way done. */
  readonly readyK: number | null
  /** Each step alone, added to what is there; steps that are done are left out. */
  readonly withK: Partial<Record<StepId, number>>
  /** The missing step that helps most; null when all are done. */
  readonly next: StepId | null
  /** Once there is a known heat: another one near to {@link SHOWN_AT_K}, if it brings enough. */
  readonly second: { readonly heat: FixedPointId; readonly withK: number } | null
}

/** Stored codes of a glow at 900 °C, exposed with care. */
const LEVELS = [0.75, 0.2, 0.02] as const
/** The same as linear light. */
const GLOW = [0.52, 0.033, 0.0015] as const
/** What counts is the ±, which grows by 5 % over so much. */
const NEAR_K = 30
/** Estimates that jump from dull to hot come no nearer. */
const BEARABLE_K = 100
const photoAt = (like: ReadingLike, temperatureK: number, shown: number | null) =>
  predictingPhoto(like, temperatureK, shown, CAMERA_LOCUS, NEAR_K, BEARABLE_K)
const SALT_K = kelvinFromCelsius(800.4)
/** Table salt on its carrier (physics/fixed-points.data.ts): point and observation together. */
const SALT_UNCERTAINTY_K = 6
/**
 * ln(G/R) and ln(B/R) after a sweep at JPEG quality 95: 5 K at 1173 K on cameras of the bench, with
 * Wien's law; blue is seen worse. Standard uncertainties.
 */
const SWEPT: Linearity = {
  kind: 'sweep',
  curveId: 'to be found',
  standardUncertaintyGreen: 0.015,
  standardUncertaintyBlue: 0.05,
}
/** A card, well exposed: 0.2 % of noise. */
const cardUnder = (light: CardLightId): GreyBalance => ({
  id: 'to be photographed',
  ...balanceFromGrey({
    card: {
      mean: [0.2, 0.2, 0.2],
      covariance: [
        [1.6e-7, 0, 0],
        [0, 1.6e-7, 0],
        [0, 0, 1.6e-7],
      ],
    },
    light,
  }),
})
const CARD = cardUnder({ kind: 'daylight', illuminant: 'D65' })
/** Beside the glow in each picture. */
const CARD_BESIDE: GreyBalance = { ...cardUnder(LAMP_ON_CARD), samePicture: true }
const RAW: BalanceState = { kind: 'raw', colourTemperatureK: null }
/** Of raw pixels that nobody has seen yet: as their matrix makes them, and held fast. */
const AS_RAW: BalanceState = { kind: 'daylight', colourTemperatureK: null, lock: 'verified' }
const AUTOMATIC: BalanceState = { kind: 'automatic', colourTemperatureK: null }

/** Works it out with pauses, so that the screen stays responsive: see {@link inSlices}. */
export function* predictCamera(
  profile: CameraProfile,
  now: Date,
): Generator<void, CameraPrediction> {
  const has = piecesOf(profile, now)
  const way = wayOf(profile.stored?.data.lock)
  const missing = STEPS_OF_WAY[way].filter((step) => !has[step])
  const uncertaintyWith = function* (steps: readonly StepId[]): Generator<void, number | null> {
    const like = yield* supposed(profile, new Set(steps), now)
    const found = yield* photoAt(like, SHOWN_AT_K, shownK(like))
    return found?.estimate.standardUncertaintyK ?? null
  }
  const nowK = yield* uncertaintyWith([])
  const all = missing.length === 0 ? nowK : yield* uncertaintyWith(missing)
  const withK: Partial<Record<StepId, number>> = {}
  for (const step of missing) {
    // Nothing found with a balance that is free would last: the lock comes with every other step.
    const steps: StepId[] = step !== 'lock' && missing.includes('lock') ? ['lock', step] : [step]
    const found = yield* uncertaintyWith(steps)
    if (found !== null) withK[step] = found
  }
  // All steps together are no worse than the best of them.
  const figures = [nowK, ...Object.values(withK)].filter((k) => k !== null)
  const readyK = all ?? (figures.length > 0 ? Math.min(...figures) : null)
  const offered = missing.filter((step) => !profile.stored?.data.skipped.includes(step))
  const best = offered.reduce<StepId | null>(
    (one, step) =>
      (withK[step] ?? Infinity) < (one ? (withK[one] ?? Infinity) : Infinity) ? step : one,
    offered[0] ?? null,
  )
  const heat = !has.heat ? null : yield* secondHeat(profile, now)
  const second = heat && heat.withK < WORTH_IT * (nowK ?? Infinity) ? heat : null
  return { nowK, readyK, withK, next: offered.includes('lock') ? 'lock' : best, second }
}

/** A photo as this camera would take it, with some steps done besides those that are. */
function* supposed(
  profile: CameraProfile,
  done: ReadonlySet<StepId>,
  now: Date,
): Generator<void, ReadingLike> {
  const lock = profile.stored?.data.lock
  const way = wayOf(lock)
  const raw = way === 'raw'
  const heat = profile.heats.find(
    ({ off, reference }) => !off && reference.channels === (raw ? 'camera' : 'display-p3'),
  )
  const channels = heat?.reference.channels ?? 'display-p3'
  const cameraId = heat?.reference.cameraId ?? profile.curves[0]?.cameraId ?? profile.device
  const locked = lock?.kind === 'locked' ? lock.state : heat?.reference.balanceState
  const state = (): BalanceState => {
    if (raw) return channels === 'camera' ? RAW : AS_RAW
    if (way === 'card in picture') return AUTOMATIC
    if (done.has('lock')) return { kind: 'daylight', colourTemperatureK: null }
    return locked ?? { kind: 'unknown', colourTemperatureK: null }
  }
  const balanceState = state()
  const balance = (): GreyBalance | null => {
    if (way === 'card in picture')
      return done.has('card') || profile.stored?.data.cardPlace ? CARD_BESIDE : null
    const card = cardOf(profile, cameraId, raw ? 'camera' : channels, balanceState)
    // A card of raw pixels says nothing of a colour that is made up.
    if (card && (!raw || channels === 'camera')) return card.balance
    return card || done.has('card') ? CARD : null
  }
  const curve = profile.curves.find(({ check }) => check?.agrees ?? true)
  const usual =
    profile.stored?.data.usual?.materialId || heat?.reference.surface.id || 'steel-oxidised'
  const linearity: Linearity = raw
    ? { kind: 'raw' }
    : done.has('sweep')
      ? SWEPT
      : { kind: 'single', curveId: cameraId, storedLevels: LEVELS, space: 'srgb' }
  const byCurve = (stored: StoredCurve) => {
    const { movedBy } = curveAge(stored.foundAt, stored.check?.at ?? null, now.toISOString())
    return (light: Triple) =>
      linearityByCurve(stored.curve, stored.id, codesFromLight(stored.curve, light), movedBy)
  }
  const like: ReadingLike = {
    glow: {
      // As this camera has seen a known heat, or as the mean camera sees 900 °C.
      mean: heat?.reference.glow.mean ?? GLOW,
      covariance: [
        [0, 0, 0],
        [0, 0, 0],
        [0, 0, 0],
      ],
    },
    channels,
    cameraToXyz: heat?.cameraToXyz ?? null,
    balance: balance(),
    balanceState,
    linearity,
    ...(curve && !raw && !done.has('sweep') && { linearityAt: byCurve(curve) }),
    surface: surfaceOf(usual),
    cameraId,
    takenAt: now.toISOString(),
    references: profile.heats.filter(({ off }) => !off).map(({ reference }) => reference),
    leakTests: profile.stored?.data.leakTests ?? [],
  }
  if (!done.has('heat')) return like
  const salt = yield* melted(like, {
    temperatureK: SALT_K,
    standardUncertaintyK: SALT_UNCERTAINTY_K,
  })
  return salt ? { ...like, references: [...like.references, salt] } : like
}

/** A known heat photographed as the reading is. */
function* melted(
  like: ReadingLike,
  point: { readonly temperatureK: number; readonly standardUncertaintyK: number },
): Generator<void, KnownHeatReference | null> {
  const { temperatureK } = point
  const shown = shownK(like) ?? SHOWN_AT_K
  const melt = yield* photoAt(like, temperatureK, shown)
  if (!melt) return null
  return referenceLike(melt.input, {
    id: `to be melted at ${temperatureK} K`,
    name: '',
    takenAt: like.takenAt ?? '',
    ...point,
  })
}

/** Temperature of the supposed glow: that of the known heat whose colour it has; null: not known. */
const shownK = ({ glow, references }: ReadingLike): number | null =>
  references.find((one) => one.glow.mean === glow.mean)?.temperatureK ?? null

/** A ± that shrinks by less is not worth a melt. */
const WORTH_IT = 0.8
/** Heats this close are one point. */
const SAME_POINT_K = 30

/** The melt nearest to where the ± is shown, where the known heats so far lie elsewhere. */
function* secondHeat(
  profile: CameraProfile,
  now: Date,
): Generator<void, CameraPrediction['second']> {
  const heat = nearestMelt(SHOWN_AT_K)
  const point = fixedPointTemperature({ id: heat })
  if (!point.ok) return null
  const like = yield* supposed(profile, new Set(), now)
  const there = ({ temperatureK }: KnownHeatReference) =>
    Math.abs(temperatureK - point.temperatureK) < SAME_POINT_K
  if (like.references.length === 0 || like.references.some(there)) return null
  const melt = yield* melted(like, point)
  if (!melt) return null
  const with2 = { ...like, references: [...like.references, melt] }
  const found = yield* photoAt(with2, SHOWN_AT_K, shownK(like))
  return found && { heat, withK: found.estimate.standardUncertaintyK }
}
