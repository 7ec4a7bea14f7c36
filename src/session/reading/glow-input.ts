import type { MeasuredExposure } from '../../estimate/exposure-test.ts'
import type { LeakTest } from '../../estimate/leak-test.ts'
import type {
  BalanceState,
  GlowInput,
  GreyBalance,
  KnownHeatReference,
  LevelConditions,
  Linearity,
  SurfaceSlope,
  WindowSlope,
} from '../../estimate/types.ts'
import type { LinearColour, Region } from '../../light/image.ts'
import { fieldRadius } from '../../light/lens-shading.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import { UNKNOWN_SLOPE_UNCERTAINTY } from '../../physics/emissivity.ts'
import { logEmissivityRatio, materialById } from '../../physics/materials.ts'
import { windowById } from '../../physics/windows.ts'
import type { Photo } from '../../sources/photo/photo.ts'

/** What the person says about the piece and the camera. */
export interface Choices {
  readonly materialId: string
  /** 'none' or the id of a window. */
  readonly cover: string
  readonly balanceState: BalanceState
  /** The known heats on this material were seen on this very piece, with the scale it has now. */
  readonly samePiece?: boolean
}

/** The surface changes the figure: it is asked, not preselected. */
export const FIRST_CHOICES: Choices = {
  materialId: '',
  cover: 'none',
  balanceState: { kind: 'unknown', colourTemperatureK: null },
}

interface Parts {
  readonly measurement: PhotoMeasurement
  /** Linear colour from elsewhere (a sweep) instead of the measurement's own. */
  readonly glow?: LinearColour
  readonly channels: GlowInput['channels']
  readonly cameraToXyz: GlowInput['cameraToXyz']
  readonly linearity: Linearity
  readonly balance: GreyBalance | null
  readonly choices: Choices
  readonly cameraId: string
  /** Of the practice bench: see GlowInput. */
  readonly faithfulColours: boolean
  readonly takenAt: string | null
  readonly references: readonly KnownHeatReference[]
  readonly level: LevelConditions | null
  /** What the camera's settings have been seen to gather, from the kit. */
  readonly exposures?: readonly MeasuredExposure[]
  /** Of the camera's filter, from the kit. */
  readonly leakTests?: readonly LeakTest[]
}

/** Tungsten's slope depends on temperature, weakly: taken in the middle of the range of work. */
const MIDDLE_K = 1300

/** A surface as the estimate wants it; an unknown material is taken as grey, widely. */
export function surfaceOf(materialId: string): SurfaceSlope {
  const material = materialById(materialId)
  const slope = material
    ? logEmissivityRatio(material, MIDDLE_K)
    : { value: 0, standardUncertainty: UNKNOWN_SLOPE_UNCERTAINTY }
  return {
    id: materialId,
    lnGreenOverRed: slope.value,
    standardUncertainty: slope.standardUncertainty,
  }
}

/** What stands in front as the estimate wants it; null for nothing. */
export function windowOf(cover: string): WindowSlope | null {
  const window = windowById(cover)
  if (!window) return null
  const { id, lnGreenOverRed, standardUncertainty, infrared } = window
  return {
    id,
    lnGreenOverRed,
    standardUncertainty,
    ...(infrared !== undefined && { infrared }),
  }
}

/** Id of the piece that reading and known heats have in common. */
const THIS_PIECE = 'this piece'

/** Puts together everything that one reading rests on. */
export function glowInput(parts: Parts): GlowInput {
  const { measurement, choices } = parts
  const onPiece = <S extends SurfaceSlope>(surface: S): S =>
    choices.samePiece && surface.id === choices.materialId
      ? { ...surface, piece: THIS_PIECE }
      : surface
  const { exposures = [] } = parts
  const references =
    exposures.length === 0
      ? parts.references
      : parts.references.map((one) =>
          one.level && one.cameraId === parts.cameraId
            ? { ...one, level: asMeasured(one.level, exposures) }
            : one,
        )
  return {
    glow: parts.glow ?? measurement.glow,
    channels: parts.channels,
    cameraToXyz: parts.cameraToXyz,
    balance: parts.balance,
    balanceState: choices.balanceState,
    linearity: parts.linearity,
    quality: measurement.quality,
    surface: onPiece(surfaceOf(choices.materialId)),
    window: windowOf(choices.cover),
    cameraId: parts.cameraId,
    ...(parts.faithfulColours && { faithfulColours: true }),
    takenAt: parts.takenAt,
    references: choices.samePiece
      ? references.map((one) => ({ ...one, surface: onPiece(one.surface) }))
      : references,
    ...(parts.level ? { level: asMeasured(parts.level, exposures) } : {}),
    ...(parts.leakTests && parts.leakTests.length > 0 && { leakTests: parts.leakTests }),
  }
}

/** A level with what its setting has been seen to gather. */
function asMeasured(level: LevelConditions, exposures: readonly MeasuredExposure[]) {
  const found = exposures.find(
    ({ exposureSeconds, iso, fNumber }) =>
      exposureSeconds === level.exposureSeconds && iso === level.iso && fNumber === level.fNumber,
  )
  if (!found) return level
  const { lnOff, standardUncertainty } = found
  return { ...level, measured: { lnOff, standardUncertainty } }
}

/**
 * What makes the level of a photo comparable with others of its camera; null where the file does not
 * state its exposure.
 */
export function levelConditions(
  { facts, width, height }: Pick<Photo, 'facts' | 'width' | 'height'>,
  region: Region,
): LevelConditions | null {
  const { exposureSeconds, iso, fNumber } = facts
  if (exposureSeconds === null || iso === null || fNumber === null) return null
  return { exposureSeconds, iso, fNumber, fieldRadius: fieldRadius(region, { width, height }) }
}
