import type {
  BalanceState,
  GlowInput,
  GreyBalance,
  KnownHeatReference,
  Linearity,
  SurfaceSlope,
} from '../../estimate/types.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import { logEmissivityRatio, materialById } from '../../physics/materials.ts'
import { windowById } from '../../physics/windows.ts'

/** What the person says about the piece and the camera. */
export interface Choices {
  readonly materialId: string
  /** 'none' or the id of a window. */
  readonly cover: string
  readonly balanceState: BalanceState
}

interface Parts {
  readonly measurement: PhotoMeasurement
  readonly channels: GlowInput['channels']
  readonly cameraToXyz: GlowInput['cameraToXyz']
  readonly linearity: Linearity
  readonly balance: GreyBalance | null
  readonly choices: Choices
  readonly cameraId: string
  readonly takenAt: string | null
  readonly references: readonly KnownHeatReference[]
}

/** Tungsten's slope depends on temperature, weakly: taken in the middle of the range of work. */
const MIDDLE_K = 1300

/** A surface as the estimate wants it; an unknown material is taken as grey, widely. */
export function surfaceOf(materialId: string): SurfaceSlope {
  const material = materialById(materialId)
  const slope = material
    ? logEmissivityRatio(material, MIDDLE_K)
    : { value: 0, standardUncertainty: 0.05 }
  return {
    id: materialId,
    lnGreenOverRed: slope.value,
    standardUncertainty: slope.standardUncertainty,
  }
}

/** Puts together everything that one reading rests on. */
export function glowInput(parts: Parts): GlowInput {
  const { measurement, choices } = parts
  const window = windowById(choices.cover)
  return {
    glow: measurement.glow,
    channels: parts.channels,
    cameraToXyz: parts.cameraToXyz,
    balance: parts.balance,
    balanceState: choices.balanceState,
    linearity: parts.linearity,
    quality: measurement.quality,
    surface: surfaceOf(choices.materialId),
    window: window
      ? {
          id: window.id,
          lnGreenOverRed: window.lnGreenOverRed,
          standardUncertainty: window.standardUncertainty,
        }
      : null,
    cameraId: parts.cameraId,
    takenAt: parts.takenAt,
    references: parts.references,
  }
}
