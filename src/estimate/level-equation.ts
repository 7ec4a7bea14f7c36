/**
 * The level of red as an observation: ln(level / exposure) is that of the camera's mean red at the
 * temperature, plus a gain that all photos of the camera share, plus what differs from photo to photo.
 */
import { MEAN_CAMERA, meanCamera } from '../light/simulate/mean-camera.ts'
import { respond } from '../light/simulate/sensitivity.ts'
import { deliveredP3, glowSpectrum } from '../light/simulate/simulated-camera.ts'
import { monotoneCubic, type TableCurve } from '../numerics/monotone-cubic.ts'
import { exposureFactor, LEAST_LEVEL_UNDER_BLUR, levelUnderBlur } from '../physics/brightness.ts'
import { materialById, spectralEmissivity } from '../physics/materials.ts'
import { bendOf, type LevelError } from './level-bend.ts'
import type { GlowInput, KnownHeatReference, LevelConditions } from './types.ts'

export interface MeasuredLevel {
  /** ln(level / exposure) less ln(emissivity). */
  readonly value: number
  /** Variance of the value that is this photo's own. */
  readonly variance: number
  readonly shared: readonly LevelError[]
  readonly channels: GlowInput['channels']
  /** The piece that it is of; null where nobody said. */
  readonly piece: string | null
  /** See {@link LevelConditions}. */
  readonly stream: boolean
}

/**
 * Spread of d ln(red) / d(1/T) over cameras, relative: 0.006 among 52 measured ones, in daylight, lamp
 * and raw alike, with 0.0025 in ln(level) that no such factor explains over 1023 to 1600 K. A filter
 * that leaks a thousandth of the infrared turns red's mean wavelength by 2 %.
 */
const BAND_SPREAD = 0.01
const BAND_REST = 0.0025
/** Where the factor is counted from, K: any will do, the gain is free. */
const BAND_ORIGIN_K = 1173
/**
 * What differs between photos of one piece: growth of the oxide, the angle of view, a spot beside
 * (common practice), and flare; relative.
 */
const SPOT = 0.02
const FLARE = 0.01
/**
 * Two pieces of one surface: oxidised metal ranges from 0.7 to 0.9 (see materials.data.ts), evenly within
 * these limits (JCGM 100, 4.3.7); relative. Less where the tables leave less.
 */
const PIECE = 0.2 / Math.sqrt(12) / 0.8
/**
 * Exposures that are set otherwise: labels are nominal (1/60 s for 1/64 s) and gain follows ISO only
 * roughly; 5 % between two of them, common practice.
 */
const EXPOSURE = 0.05 / Math.SQRT2
/**
 * Fall of light from the centre to the corner, relative: lenses lose a third of it (cos⁴ and more),
 * phones put some of that back; common practice.
 */
const VIGNETTING = 0.3
/** Emissivity of a surface that is not in the tables. */
const UNKNOWN_EMISSIVITY = 0.3
/** Where the emissivity is taken: the mean wavelength of red, and a forging heat. */
const RED_NM = 632
const EMISSIVITY_K = 1200
const BLUR_PIXELS = 4

/**
 * The level of a photo; null where it is not comparable: no exposure, the unknown tone curve of a photo,
 * or a glow thinner than the blur.
 */
export function measuredLevel(
  photo: Pick<GlowInput, 'glow' | 'channels' | 'linearity' | 'surface'> & {
    readonly level?: LevelConditions | undefined
    /** Narrowest extent of the glow, pixels; left out for a reference, which was judged when taken. */
    readonly widthPixels?: number
  },
): MeasuredLevel | null {
  const { level, glow, surface, channels, widthPixels } = photo
  const red = glow.mean[0]
  if (!level || !(red > 0)) return null
  const bend = bendOf(photo, level)
  if (bend === null) return null
  if (
    widthPixels !== undefined &&
    levelUnderBlur(widthPixels, BLUR_PIXELS) < LEAST_LEVEL_UNDER_BLUR
  )
    return null
  const exposure = exposureFactor(level)
  if (!(exposure > 0 && Number.isFinite(exposure))) return null
  const emissivity = emissivityOf(surface.id)
  const setting = `${level.exposureSeconds} ${level.iso} ${level.fNumber}`
  const ofPiece = Math.min(PIECE, emissivity.relative)
  const { piece } = surface
  const variance =
    glow.covariance[0][0] / red ** 2 + SPOT ** 2 + FLARE ** 2 + BAND_REST ** 2 + bend.variance
  return {
    value:
      Math.log(red / exposure / emissivity.value) + bend.correction - (level.measured?.lnOff ?? 0),
    variance: piece === undefined ? variance + ofPiece ** 2 : variance,
    shared: [
      ...bend.shared,
      ...(piece === undefined ? [] : [{ key: `piece ${piece}`, standardUncertainty: ofPiece }]),
      {
        key: `exposure ${setting}`,
        standardUncertainty: level.measured?.standardUncertainty ?? EXPOSURE,
      },
      { key: `emissivity ${surface.id}`, standardUncertainty: emissivity.relative },
      { key: 'vignetting', standardUncertainty: -VIGNETTING * level.fieldRadius ** 2 },
    ],
    channels,
    piece: piece ?? null,
    stream: level.stream ?? false,
  }
}

function emissivityOf(materialId: string): { value: number; relative: number } {
  const material = materialById(materialId)
  if (!material) return { value: 1, relative: UNKNOWN_EMISSIVITY }
  const { value, standardUncertainty } = spectralEmissivity(material, RED_NM, EMISSIVITY_K)
  return { value, relative: standardUncertainty / value }
}

export interface LevelEquation {
  /** Value less that of the mean camera at the temperature. */
  readonly residual: number
  /** d ln(red) / d true temperature, 1/K. */
  readonly slope: number
  /** Loading of the camera's own steepness. */
  readonly band: number
}

/** @param temperatureK true temperature */
export function levelEquation(measured: MeasuredLevel, temperatureK: number): LevelEquation {
  const { ln, origin } = redOf(measured.channels)
  const x = 1 / temperatureK
  const mean = ln.value(x)
  return {
    residual: measured.value - mean,
    slope: -ln.slope(x) * x * x,
    band: BAND_SPREAD * (mean - origin),
  }
}

interface Red {
  /** ln(red) over 1/T. */
  readonly ln: TableCurve
  readonly origin: number
}

const COLDEST_K = 800
const HOTTEST_K = 3400
const NODES = 60
const known = new Map<GlowInput['channels'], Red>()

/** Red of the mean camera; of delivered pictures that of daylight, from which lamp's differs by 0.4 %. */
function redOf(channels: GlowInput['channels']): Red {
  const found = known.get(channels)
  if (found) return found
  const camera = meanCamera('daylight')
  const at = (kelvin: number) =>
    Math.log(
      channels === 'camera'
        ? respond(MEAN_CAMERA, glowSpectrum(kelvin))[0]
        : deliveredP3(camera, glowSpectrum(kelvin))[0],
    )
  const ln = monotoneCubic(
    Array.from({ length: NODES }, (_, i): [number, number] => {
      const share = i / (NODES - 1)
      const x = (1 - share) / HOTTEST_K + share / COLDEST_K
      return [x, at(1 / x)]
    }),
  )
  const red = { ln, origin: ln.value(1 / BAND_ORIGIN_K) }
  known.set(channels, red)
  return red
}

/** The level of a known heat's photo; its own session's curve, where it is not known, is past. */
export const levelOfReference = (reference: KnownHeatReference): MeasuredLevel | null =>
  reference.linearity.kind === 'single' ? null : measuredLevel(reference)

/** A window takes light that is not stated. */
export const levelOfReading = (input: GlowInput): MeasuredLevel | null =>
  input.window === null
    ? measuredLevel({ ...input, widthPixels: input.quality.glowWidthPixels })
    : null

/** ln of how much brighter red is at one temperature than at another, of one surface. */
export function lnRedOver(channels: GlowInput['channels'], hotK: number, coldK: number): number {
  const { ln } = redOf(channels)
  return ln.value(1 / hotK) - ln.value(1 / coldK)
}
