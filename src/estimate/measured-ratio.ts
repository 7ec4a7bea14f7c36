/**
 * One photo's G/R as an observation of the camera model: its value, the variances that are its own
 * and the errors that it shares with other photos.
 */
import { SECOND_RADIATION_CONSTANT } from '../physics/constants.ts'
import { colourTemperatureWien } from '../physics/emissivity.ts'
import type { BalancedColour } from './balanced-colour.ts'
import { lightInP3 } from './balanced-colour.ts'
import type { CameraModel } from './camera-model.ts'
import { correctionMoments, ratioCorrection } from './tone-curve-prior.ts'
import type { ToneHypothesis } from './tone-hypothesis.ts'
import type { BudgetTerm, Linearity, SurfaceSlope } from './types.ts'

/** Wavelengths to which the slopes of surfaces and windows refer, nm. */
export const GREEN_NM = 550
export const RED_NM = 650
/** c2 (1/green - 1/red), K: what a slope of 1 does to 1/T. */
const SLOPE_SCALE = SECOND_RADIATION_CONSTANT * (1e9 / GREEN_NM - 1e9 / RED_NM)

/**
 * An error common to all photos that name its key: standard uncertainty in units of the value,
 * negative where it moves this photo the other way.
 */
export interface SharedError {
  readonly key: string
  readonly term: BudgetTerm
  readonly standardUncertainty: number
}

export interface MeasuredRatio {
  /** G/R, or its logarithm, as the model's scale wants it. */
  readonly value: number
  /** Variances of the value that are this photo's own. */
  readonly own: readonly { readonly term: BudgetTerm; readonly variance: number }[]
  readonly shared: readonly SharedError[]
  /** ln of the factor on G/R for each possible tone curve; empty where the light is linear. */
  readonly corrections: readonly number[]
  readonly lampOnCardK: number | null
  readonly surface: SurfaceSlope
  /** ln(green/red) of surface and window together. */
  readonly lnSlope: number
}

/** A tone curve that several photos may share; `curves` are the possibilities. */
export interface SharedCurve {
  readonly curveId: string
  readonly curves: readonly ToneHypothesis[]
}

/**
 * @param id tells this photo's own errors from others'
 * @param sharedCurve the unknown curve whose possibilities are gone through one by one
 */
export function measuredRatio(
  colour: BalancedColour,
  photo: {
    readonly balanceId: string
    readonly linearity: Linearity
    readonly surface: SurfaceSlope
    readonly lnWindow: number
  },
  model: CameraModel,
  sharedCurve: SharedCurve,
): MeasuredRatio {
  const log = model.scale === 'log'
  const ratio = colour.green
  const value = log ? Math.log(ratio) : ratio
  /** Variance of the ratio to variance of the value. */
  const scale = log ? 1 / (ratio * ratio) : 1
  /** Relative uncertainty of the ratio to uncertainty of the value. */
  const relative = log ? 1 : Math.abs(ratio)
  const own: { term: BudgetTerm; variance: number }[] = [
    { term: 'pixel noise', variance: colour.greenVariance.pixel * scale },
  ]
  const shared: SharedError[] = [
    {
      key: `balance ${photo.balanceId}`,
      term: 'grey reference',
      standardUncertainty: Math.sqrt(colour.greenVariance.balance * scale),
    },
  ]
  let corrections: readonly number[] = []
  const { linearity } = photo
  if (linearity.kind === 'sweep') {
    const { curveId, greenErrors } = linearity
    const key = (cause: number) => `curve ${curveId}${greenErrors ? ` ${cause}` : ''}`
    for (const [cause, error] of (greenErrors ?? [linearity.standardUncertaintyGreen]).entries())
      shared.push({ key: key(cause), term: 'tone curve', standardUncertainty: error * relative })
    const mine = (linearity.ownUncertainty ?? 0) * relative
    if (mine > 0) own.push({ term: 'tone curve', variance: mine * mine })
  } else if (linearity.kind === 'single') {
    const all = sharedCurve.curves.map(
      (curve) => ratioCorrection(curve, linearity.storedLevels, linearity.space).green,
    )
    if (linearity.curveId === sharedCurve.curveId) corrections = all
    else {
      // Another unknown curve: its mean correction and spread, not shared with this one.
      const { mean, variance } = correctionMoments(linearity.storedLevels, linearity.space, 'green')
      return {
        value: log ? value + mean : value * Math.exp(mean),
        own: [...own, { term: 'tone curve', variance: variance * relative * relative }],
        shared,
        corrections,
        lampOnCardK: colour.lampOnCardK,
        surface: photo.surface,
        lnSlope: photo.surface.lnGreenOverRed + photo.lnWindow,
      }
    }
  }
  return {
    value,
    own,
    shared,
    corrections,
    lampOnCardK: colour.lampOnCardK,
    surface: photo.surface,
    lnSlope: photo.surface.lnGreenOverRed + photo.lnWindow,
  }
}

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
  const surface =
    ((point.slope * colourTemperatureK * colourTemperatureK) / SLOPE_SCALE) *
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
  const observer = lightInP3({ kind: 'filament', colourTemperatureK: measured.lampOnCardK })
  const onCard = observer[1] / observer[0]
  const seen = lamp.mean / onCard
  return {
    ...plain,
    residual: value * seen - point.mean,
    camera: point.loadings.map((loading, k) => loading - (value * lamp.loadings[k]!) / onCard),
    gain: gain * seen,
  }
}

/** Colour temperature of a surface at a true temperature, behind a window. */
export const colourTemperatureOf = (temperatureK: number, lnSlope: number): number =>
  colourTemperatureWien(temperatureK, lnSlope, GREEN_NM, RED_NM)
