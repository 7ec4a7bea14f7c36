/**
 * One photo's G/R as an observation of the camera model: its value, the variances that are its own
 * and the errors that it shares with other photos.
 */
import { SRGB_FROM_P3 } from '../colour/rgb-spaces.ts'
import { transform } from '../numerics/matrix3.ts'
import { colourTemperatureWien, trueTemperatureFromColourWien } from '../physics/emissivity.ts'
import { balanceDrift } from './balance-drift.ts'
import type { BalancedColour } from './balanced-colour.ts'
import type { CameraModel } from './camera-model.ts'
import { correctionMoments, curveMoments, ratioCorrection } from './tone-curve-prior.ts'
import type { ToneHypothesis } from './tone-hypothesis.ts'
import type { BalanceState, BudgetTerm, GreyBalance, Linearity, SurfaceSlope } from './types.ts'

/** Wavelengths to which the slopes of surfaces and windows refer, nm. */
export const GREEN_NM = 550
export const RED_NM = 650

/**
 * An error common to all photos that name its key: standard uncertainty in units of the value,
 * negative where it moves this photo the other way.
 */
export interface SharedError {
  readonly key: string
  readonly term: BudgetTerm
  readonly standardUncertainty: number
}

/** B/R of a photo, as far as the file holds one. */
export interface MeasuredBlue {
  /** A channel at the floor says only that there is no more blue than this. */
  readonly kind: 'value' | 'at most'
  /** B/R, or its logarithm, as the model's scale wants it. */
  readonly value: number
  readonly variance: number
  /** ln of the factor on B/R for each possible tone curve; empty where the light is linear. */
  readonly corrections: readonly number[]
  /** What light of 1 (of red) would add to the value, and to that of green over that of blue. */
  readonly perLight: number
  readonly greenPerBlue: number
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
  /** See {@link RatioPhoto}. */
  readonly infrared: number
  /** Null where blue says nothing. */
  readonly blue: MeasuredBlue | null
}

/** The photo that a colour was measured in. */
export interface RatioPhoto {
  readonly balance: GreyBalance | null
  readonly balanceState: BalanceState
  readonly linearity: Linearity
  readonly surface: SurfaceSlope
  readonly lnWindow: number
  /** What stands in front passes so much of the infrared over the visible. */
  readonly infrared: number
  readonly blueFloorShare: number
  /** Id of the photo, for places of one photo: they share what its balance has drifted. */
  readonly photo?: string
}

/** A tone curve that several photos may share; `curves` are the possibilities. */
export interface SharedCurve {
  readonly curveId: string
  readonly curves: readonly ToneHypothesis[]
}

/** @param sharedCurve the unknown curve whose possibilities are gone through one by one */
export function measuredRatio(
  colour: BalancedColour,
  photo: RatioPhoto,
  model: CameraModel,
  sharedCurve: SharedCurve,
): MeasuredRatio {
  const log = model.scale === 'log'
  const ratio = colour.green
  /** Variance of the ratio to variance of the value. */
  const scale = log ? 1 / (ratio * ratio) : 1
  /** Relative uncertainty of the ratio to uncertainty of the value. */
  const relative = log ? 1 : Math.abs(ratio)
  const photos = photo.linearity.kind === 'sweep' ? photo.linearity.photos : undefined
  const drift = balanceDrift(photo.balance, photo.balanceState, photos)
  const own: { term: BudgetTerm; variance: number }[] = [
    { term: 'pixel noise', variance: colour.greenVariance.pixel * scale },
  ]
  const shared: SharedError[] = [
    {
      key: `balance ${photo.balance?.id ?? 'none'}`,
      term: 'grey reference',
      standardUncertainty: Math.sqrt(colour.greenVariance.balance * scale),
    },
  ]
  const drifted = drift * relative
  if (photo.photo === undefined) own.push({ term: 'balance drift', variance: drifted ** 2 })
  else {
    const key = `drift ${photo.photo}`
    shared.push({ key, term: 'balance drift', standardUncertainty: drifted })
  }
  let value = log ? Math.log(ratio) : ratio
  let corrections: readonly number[] = []
  const { linearity } = photo
  const onShared = linearity.kind === 'single' && linearity.curveId === sharedCurve.curveId
  if (linearity.kind === 'sweep') {
    const { curveId, greenErrors } = linearity
    const key = (cause: number) => `curve ${curveId}${greenErrors ? ` ${cause}` : ''}`
    for (const [cause, error] of (greenErrors ?? [linearity.standardUncertaintyGreen]).entries())
      shared.push({ key: key(cause), term: 'tone curve', standardUncertainty: error * relative })
    const mine = (linearity.ownUncertainty ?? 0) * relative
    if (mine > 0) own.push({ term: 'tone curve', variance: mine * mine })
  } else if (onShared) {
    corrections = curveCorrections(sharedCurve, linearity, 'green')
  } else if (linearity.kind === 'single') {
    // Another unknown curve: its mean correction and spread, not shared with this one.
    const { mean, variance } = correctionMoments(linearity.storedLevels, linearity.space, 'green')
    value = log ? value + mean : value * Math.exp(mean)
    own.push({ term: 'tone curve', variance: variance * relative * relative })
  }
  return {
    value,
    own,
    shared,
    corrections,
    lampOnCardK: colour.lampOnCardK,
    surface: photo.surface,
    lnSlope: photo.surface.lnGreenOverRed + photo.lnWindow,
    infrared: photo.infrared,
    blue: measuredBlue(colour, photo, drift, log, onShared ? sharedCurve : null),
  }
}

const curveCorrections = (
  { curves }: SharedCurve,
  { storedLevels, space }: Extract<Linearity, { kind: 'single' }>,
  channel: 'green' | 'blue',
): readonly number[] => curves.map((curve) => ratioCorrection(curve, storedLevels, space)[channel])

/** A blue channel with more pixels than this at the floor is a bound, not a value. */
const LARGEST_FLOOR_SHARE = 0.05
/**
 * Flare, haze and black level add light without colour: standard uncertainty of B/R. Common practice:
 * a few thousandths of the brightest channel.
 */
const STRAY = 0.003
/** A surface's or window's slope, a drift of the balance: so many times as large for B/R. */
const BLUE_TIMES = 2

/** A sweep does not say in which space its files were. */
const mayBeSrgb = (linearity: Linearity): boolean =>
  linearity.kind === 'sweep' || (linearity.kind === 'single' && linearity.space === 'srgb')

/** Blue of linear sRGB over red that still is its edge: rounding and chroma noise. */
const SRGB_EDGE = 0.01

function atSrgbEdge({ green, blue }: BalancedColour): boolean {
  const [r, , b] = transform(SRGB_FROM_P3, [1, green, blue])
  return b < SRGB_EDGE * r
}

function measuredBlue(
  colour: BalancedColour,
  photo: RatioPhoto,
  drift: number,
  log: boolean,
  curve: SharedCurve | null,
): MeasuredBlue | null {
  const { linearity } = photo
  const { green, blue, blueVariance } = colour
  // At the floor of the file's space: zero, or the edge of sRGB, beyond which all glows below about
  // 1900 K lie. There is no more blue than this.
  const cut = mayBeSrgb(linearity)
    ? atSrgbEdge(colour)
    : blue === 0 && !log && linearity.kind !== 'raw'
  if (blue === 0 && !cut) return null
  const coarse = linearity.kind === 'single' && linearity.storedLevels[2] <= 1.5 / 255
  // Pixels at the floor held less than they show, so their mean is no less than the truth.
  const lifted = !cut && (photo.blueFloorShare > LARGEST_FLOOR_SHARE || coarse)
  // Below zero only light that was never stored in codes can be.
  if (blue < 0 && (log || (linearity.kind !== 'linear' && linearity.kind !== 'raw'))) return null
  const moments = curve ? { mean: 0, variance: 0 } : curveMoments(linearity, 'blue')
  const value = log ? Math.log(blue) + moments.mean : blue * Math.exp(moments.mean)
  const relative =
    moments.variance + (BLUE_TIMES * Math.hypot(drift, photo.surface.standardUncertainty)) ** 2
  const added = blueVariance.pixel + blueVariance.balance + STRAY ** 2
  return {
    kind: cut || lifted ? 'at most' : 'value',
    value,
    variance: log ? added / blue ** 2 + relative : added + relative * value ** 2,
    corrections:
      curve && linearity.kind === 'single' ? curveCorrections(curve, linearity, 'blue') : [],
    perLight: log ? 1 / blue : 1,
    greenPerBlue: log ? blue / green : 1,
  }
}

/** Colour temperature of a surface at a true temperature, behind a window. */
export const colourTemperatureOf = (temperatureK: number, lnSlope: number): number =>
  colourTemperatureWien(temperatureK, lnSlope, GREEN_NM, RED_NM)

/** The inverse of {@link colourTemperatureOf}: true temperature of a photo's surface. */
export const trueTemperatureOf = (colourTemperatureK: number, { lnSlope }: MeasuredRatio): number =>
  trueTemperatureFromColourWien(colourTemperatureK, lnSlope, GREEN_NM, RED_NM)
