import type { EstimateSample } from '../../estimate/recording/estimate-sampler.ts'
import type { PlateauMeaning } from '../../estimate/recording/plateau-meaning.ts'
import type { Plateau } from '../../estimate/recording/plateaus.ts'
import type { LinearColour } from '../../light/image.ts'
import { FLAGS, type RecordingColumns } from '../../log/recordings/columns.ts'
import type { RecordingHead } from '../../log/recordings/recording-schema.ts'
import type { Json, NewKitItem } from '../../log/schema/types.ts'
import type { Matrix3, Triple } from '../../numerics/matrix3.ts'
import { median } from '../../numerics/statistics.ts'
import { rootSumSquare } from '../../physics/uncertainty.ts'
import type { SetHeat } from './recording-details.ts'

/**
 * How far the surface that is seen may be from the point while the curve stands, K, standard. Less
 * than by eye (6 to 8): no moment is judged. Our estimate: a crust that cools outwards, a melt that is
 * not stirred.
 */
const SURFACE_K = 2.5
/** A look at another temperature than this from the plateau tells of another state of the camera, K. */
const LOOK_REACH_K = 40

export type ReferenceObstacle =
  /** No whole look lies near the plateau. */
  | 'no look'
  | 'white balance not fixed'
  /** Steel's points depend on its carbon and the rate: they are no scale. */
  | 'no melt'

export interface PlateauReference {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  readonly look: EstimateSample
  /** ln(G/R) over the plateau. */
  readonly lnRatio: number
  /** ln of its red over that of the look; null where the exposure changed between, or is not known. */
  readonly lnBrighter: number | null
}

/**
 * What a plateau would be as a known heat of the camera: the published point, uncertain by itself, by
 * the surface, and by the length and flatness of the plateau.
 */
export function plateauReference(
  plateau: Plateau,
  meaning: PlateauMeaning,
  columns: Pick<RecordingColumns, 'ms' | 'lnRatio' | 'lnRed' | 'flags'>,
  looks: readonly EstimateSample[],
): PlateauReference | ReferenceObstacle {
  if (plateau.kind !== 'plateau' || meaning.inSteel) return 'no melt'
  const look = looks
    .filter(({ temperatureK }) => Math.abs(temperatureK - plateau.levelK) < LOOK_REACH_K)
    .reduce<EstimateSample | null>((best, next) => {
      const away = (of: EstimateSample) => Math.abs(of.temperatureK - plateau.levelK)
      return best === null || away(next) < away(best) ? next : best
    }, null)
  const { fromSeconds, toSeconds } = plateau
  const inside = finiteWithin(columns, 'lnRatio', fromSeconds, toSeconds)
  if (!look || inside.length === 0) return 'no look'
  const { kind } = look.input.balanceState
  if (look.input.balance === null && (kind === 'automatic' || kind === 'unknown'))
    return 'white balance not fixed'
  return {
    temperatureK: meaning.temperatureK,
    standardUncertaintyK: uncertaintyOf(plateau, meaning),
    look,
    lnRatio: median(inside),
    lnBrighter: look.input.level ? brighterThan(look, plateau, columns) : null,
  }
}

const uncertaintyOf = (
  { levelUncertaintyK }: Plateau,
  { pointUncertaintyK }: PlateauMeaning,
): number => rootSumSquare([pointUncertaintyK, SURFACE_K, levelUncertaintyK])

/** The melt that a plateau was, as what sets the curve that it stands in; null for steel. */
export function plateauHeat(plateau: Plateau, meaning: PlateauMeaning): SetHeat | null {
  if (plateau.kind !== 'plateau' || meaning.inSteel) return null
  return {
    seconds: (plateau.fromSeconds + plateau.toSeconds) / 2,
    readK: plateau.levelK,
    temperatureK: meaning.temperatureK,
    standardUncertaintyK: uncertaintyOf(plateau, meaning),
    name: meaning.name,
  }
}

/** A look is compared with the readings so near to it, s. */
const BESIDE_LOOK = 1

type Levels = Pick<RecordingColumns, 'ms' | 'lnRed' | 'flags'>

/** ln of a plateau's red over that of a look; null where they were not exposed alike. */
function brighterThan(
  { seconds }: EstimateSample,
  { fromSeconds, toSeconds }: Plateau,
  columns: Levels,
): number | null {
  const [from, to] = [Math.min(seconds, fromSeconds), Math.max(seconds, toSeconds)]
  for (let i = 0; i < columns.ms.length; i++) {
    const at = columns.ms[i]! / 1000
    if (at >= from && at <= to && columns.flags[i]! & FLAGS['exposure changed']) return null
  }
  const onPlateau = finiteWithin(columns, 'lnRed', fromSeconds, toSeconds)
  const atLook = finiteWithin(columns, 'lnRed', seconds - BESIDE_LOOK, seconds + BESIDE_LOOK)
  return onPlateau.length > 0 && atLook.length > 0 ? median(onPlateau) - median(atLook) : null
}

/** The numbers of a column between two times, s. */
function finiteWithin<Name extends 'lnRatio' | 'lnRed'>(
  columns: Pick<RecordingColumns, 'ms' | Name>,
  name: Name,
  from: number,
  to: number,
): number[] {
  const found: number[] = []
  const { ms, [name]: values } = columns
  for (let i = 0; i < ms.length; i++) {
    const at = ms[i]! / 1000
    const value: number = values[i]!
    if (at >= from && at <= to && Number.isFinite(value)) found.push(value)
  }
  return found
}

/** The kit item of it. */
export function plateauKitItem(
  { temperatureK, standardUncertaintyK, look, lnRatio, lnBrighter }: PlateauReference,
  meaning: PlateauMeaning,
  { startedAt, simulated }: RecordingHead,
): NewKitItem {
  const { input } = look
  const glow = brighter(input.glow, lnBrighter ?? 0)
  const [r, , b] = glow.mean
  const atmosphere =
    meaning.condition === 'covered' || meaning.condition === 'open-air' ? meaning.condition : null
  const data = {
    reference: {
      cameraId: input.cameraId,
      takenAt: startedAt.iso,
      temperatureK,
      standardUncertaintyK,
      glow: { ...glow, mean: [r, r * Math.exp(lnRatio), b] },
      channels: input.channels,
      balance: input.balance,
      balanceState: input.balanceState,
      linearity: input.linearity,
      surface: input.surface,
      group: null,
      ...(lnBrighter !== null && input.level && { level: input.level }),
    },
    off: false,
    origin: {
      kind: 'known heat',
      id: meaning.id,
      atmosphere,
      steelClass: null,
      valueK: null,
      limitsOfErrorK: null,
    },
    cameraToXyz: input.cameraToXyz,
  }
  return {
    kind: 'known heat',
    name: `${meaning.name}, plateau`,
    date: startedAt,
    cameraId: input.cameraId,
    balanceState: input.balanceState.kind,
    temperatureK,
    standardUncertaintyK,
    simulated,
    data: data as unknown as Json,
  }
}

/** All light by one factor, noise and all. */
function brighter({ mean, covariance }: LinearColour, lnFactor: number): LinearColour {
  const factor = Math.exp(lnFactor)
  return {
    mean: mean.map((value) => value * factor) as unknown as Triple,
    covariance: covariance.map((row) =>
      row.map((value) => value * factor ** 2),
    ) as unknown as Matrix3,
  }
}
