/** What a photo's G/R and B/R say of the camera at a colour temperature, as linear equations. */
import { SECOND_RADIATION_CONSTANT } from '../physics/constants.ts'
import { filamentInP3 } from './balanced-colour.ts'
import type { CameraModel } from './camera-model.ts'
import { GREEN_NM, type MeasuredBlue, type MeasuredRatio, RED_NM } from './measured-ratio.ts'

/** c2 (1/green - 1/red), K: what a slope of 1 does to 1/T. */
const SLOPE_SCALE = SECOND_RADIATION_CONSTANT * (1e9 / GREEN_NM - 1e9 / RED_NM)

/** What the measured ratio and a temperature say about the coefficients. */
export interface RatioEquation {
  /** value - mean of the model */
  readonly residual: number
  /** Of the camera's coefficients. */
  readonly camera: readonly number[]
  /** d residual / d colour temperature of the mean, and of each camera loading, 1/K. */
  readonly slope: number
  readonly cameraSlopes: readonly number[]
  /** Factor on the variances and uncertainties of the value (tone curve and card light). */
  readonly gain: number
  /** Uncertainty of the value by the surface's slope. */
  readonly surface: number
}

/**
 * The equation residual = camera . coefficients + errors, at one colour temperature.
 *
 * A card lit by a filament lamp was itself seen through the camera's locus: the balanced ratio is
 * f(T) over f(lamp) times what the observer sees of the lamp. That is linear in the coefficients:
 * value f(lamp) / observer(lamp) = f(T).
 *
 * @param curve index of the tone curve; ignored where the light is linear
 */
export function ratioEquation(
  measured: MeasuredRatio,
  model: CameraModel,
  colourTemperatureK: number,
  curve: number,
): RatioEquation {
  const point = model.green(colourTemperatureK)
  const correction = measured.corrections[curve] ?? 0
  const log = model.scale === 'log'
  const value = log ? measured.value + correction : measured.value * Math.exp(correction)
  const gain = log ? 1 : Math.exp(correction)
  // A slope of the surface acts on the visible light alone.
  const surface =
    ((model.visibleSlope(colourTemperatureK) * colourTemperatureK * colourTemperatureK) /
      SLOPE_SCALE) *
    measured.surface.standardUncertainty
  const plain = {
    residual: value - point.mean,
    camera: point.loadings,
    slope: -point.slope,
    cameraSlopes: point.loadingSlopes,
    gain,
    surface,
  }
  if (measured.lampOnCardK === null) return plain
  const lamp = model.green(measured.lampOnCardK)
  if (log)
    return {
      ...plain,
      residual: value + lamp.mean - point.mean,
      camera: point.loadings.map((loading, k) => loading - lamp.loadings[k]!),
    }
  const observer = filamentInP3(measured.lampOnCardK)
  const onCard = observer[1] / observer[0]
  const seen = lamp.mean / onCard
  return {
    ...plain,
    residual: value * seen - point.mean,
    camera: point.loadings.map((loading, k) => loading - (value * lamp.loadings[k]!) / onCard),
    gain: gain * seen,
  }
}

/** What blue and a temperature say about the camera's coefficients; its errors are its own. */
export interface BlueEquation {
  readonly kind: MeasuredBlue['kind']
  readonly residual: number
  readonly camera: readonly number[]
  /** d residual / d colour temperature of the mean, 1/K. */
  readonly slope: number
  readonly variance: number
  /** See {@link MeasuredBlue}. */
  readonly perLight: number
  readonly greenPerBlue: number
}

/** The same for B/R; null where the photo has none. */
export function blueEquation(
  { blue, lampOnCardK }: MeasuredRatio,
  model: CameraModel,
  colourTemperatureK: number,
  curve: number,
): BlueEquation | null {
  if (blue === null) return null
  const point = model.blue(colourTemperatureK)
  const correction = blue.corrections[curve] ?? 0
  const log = model.scale === 'log'
  const value = log ? blue.value + correction : blue.value * Math.exp(correction)
  const { kind, perLight, greenPerBlue } = blue
  const plain = {
    kind,
    residual: value - point.mean,
    camera: point.loadings,
    slope: -point.slope,
    variance: blue.variance * (log ? 1 : Math.exp(2 * correction)),
    perLight,
    greenPerBlue,
  }
  if (lampOnCardK === null) return plain
  // As for green: see {@link ratioEquation}.
  const lamp = model.blue(lampOnCardK)
  if (log)
    return {
      ...plain,
      residual: value + lamp.mean - point.mean,
      camera: point.loadings.map((loading, k) => loading - lamp.loadings[k]!),
    }
  const observer = filamentInP3(lampOnCardK)
  const onCard = observer[2] / observer[0]
  const seen = lamp.mean / onCard
  const seenGreen = (model.green(lampOnCardK).mean * observer[0]) / observer[1]
  return {
    ...plain,
    residual: value * seen - point.mean,
    camera: point.loadings.map((loading, k) => loading - (value * lamp.loadings[k]!) / onCard),
    variance: plain.variance * seen * seen,
    perLight: perLight * seen,
    greenPerBlue: (greenPerBlue * seenGreen) / seen,
  }
}
