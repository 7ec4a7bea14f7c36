/** A temperature from the level of red against a known one of the same camera. */
import { MEAN_CAMERA } from '../light/simulate/mean-camera.ts'
import {
  type BrightnessTemperature,
  brightnessTemperatureFromLevel,
  exposureFactor,
  exposureRatioUncertainty,
  hotterThanBefore,
  LEAST_LEVEL_UNDER_BLUR,
  levelUnderBlur,
  type PassBand,
  type RedLevel,
  type Surface,
} from '../physics/brightness.ts'
import { type Estimate, materialById, spectralEmissivity } from '../physics/materials.ts'

/** Red of a photo that states its exposure. */
export interface LevelPhoto {
  readonly red: RedLevel
  /** Linear light, or an ordinary photo whose tone curve bends its levels. */
  readonly linear: boolean
  readonly widthPixels: number
}

export interface LevelComparison {
  readonly found: BrightnessTemperature
  /** Kelvin hotter than the reference, if both are the same object and surface. */
  readonly hotter: Estimate
  readonly thin: boolean
  readonly curveUnknown: boolean
}

/** Mean red of measured cameras; single cameras lie some 5 nm beside it. */
export const RED_BAND: PassBand = {
  wavelengthNm: MEAN_CAMERA.values.map((_, i) => MEAN_CAMERA.firstNm + i * MEAN_CAMERA.stepNm),
  weight: MEAN_CAMERA.values.map(([red]) => red),
}
const BAND_SHIFT_NM = 5
/** Full width of the blur of lens and demosaicing, pixels; common practice. */
const BLUR_PIXELS = 4
/** An unknown tone curve bends ln(level) by this share of the difference: contrast +-17 %. */
const CURVE_BEND = 0.17

function surfaceOf(materialId: string): Surface | null {
  const material = materialById(materialId)
  if (!material) return null
  const red = spectralEmissivity(material, 650, 1200)
  return {
    emissivity: (nm, kelvin) => spectralEmissivity(material, nm, kelvin).value,
    relativeUncertainty: red.standardUncertainty / red.value,
  }
}

/**
 * The temperature of a glow by its red level, against a photo of a known temperature by the same
 * camera in the same state.
 *
 * @param glow with the id of its material, as the reference
 * @returns null without a known surface, a level or an exposure
 */
export function compareLevels(
  glow: LevelPhoto & { readonly materialId: string },
  reference: LevelPhoto & { readonly materialId: string; readonly temperature: Estimate },
): LevelComparison | null {
  const surface = surfaceOf(glow.materialId)
  const referenceSurface =
    reference.materialId === glow.materialId ? surface : surfaceOf(reference.materialId)
  if (!surface || !referenceSurface) return null
  const curveUnknown = !glow.linear || !reference.linear
  const bend = curveUnknown
    ? CURVE_BEND * Math.abs(Math.log(glow.red.level.value / reference.red.level.value))
    : 0
  const level = {
    value: glow.red.level.value,
    standardUncertainty: Math.hypot(
      glow.red.level.standardUncertainty,
      bend * glow.red.level.value,
    ),
  }
  const found = brightnessTemperatureFromLevel({
    band: RED_BAND,
    bandShiftNm: BAND_SHIFT_NM,
    glow: { ...glow.red, level },
    surface,
    reference: {
      ...reference.red,
      temperature: reference.temperature,
      surface: referenceSurface,
    },
  })
  if (!found) return null
  const exposures = exposureFactor(reference.red.exposure) / exposureFactor(glow.red.exposure)
  const ratio = (level.value / reference.red.level.value) * exposures
  const relative = Math.hypot(
    level.standardUncertainty / level.value,
    reference.red.level.standardUncertainty / reference.red.level.value,
    exposureRatioUncertainty(glow.red.exposure, reference.red.exposure),
  )
  return {
    found,
    hotter: hotterThanBefore(RED_BAND, reference.temperature, {
      value: ratio,
      standardUncertainty: ratio * relative,
    }),
    thin: levelUnderBlur(glow.widthPixels, BLUR_PIXELS) < LEAST_LEVEL_UNDER_BLUR,
    curveUnknown,
  }
}
