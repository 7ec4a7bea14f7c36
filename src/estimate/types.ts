/**
 * What the estimate takes and gives. Everything here is plain JSON (finite numbers, strings, null):
 * a log entry keeps a whole {@link GlowInput} so that a later version can compute it again.
 * Codes, no sentences: the words stand in src/ui/words.
 */
import type { Matrix3, Triple } from '../colour/vectors.ts'
import type { Channels, LinearColour, RgbSpace } from '../light/image.ts'

/**
 * The white-balance state the camera worked in. It decides the camera's colour matrix, so a reference
 * counts only for readings of its own state.
 * `daylight` and `lamp` are presets; `locked` is locked on a stated colour temperature; `raw` means
 * that no balance was applied.
 */
export interface BalanceState {
  readonly kind: 'daylight' | 'lamp' | 'locked' | 'raw' | 'automatic' | 'unknown'
  /** Kelvin, where the camera states it; null when it does not. */
  readonly colourTemperatureK: number | null
}

/** The light that lit the grey reference. In raw channels the locus is counted from this light. */
export interface CardLight {
  readonly kind: 'daylight' | 'filament' | 'other'
  /** Correlated colour temperature, K. */
  readonly colourTemperatureK: number
  readonly standardUncertaintyK: number
}

/**
 * Gains found on a grey reference.
 * In Display P3 they carry the card to the chromaticity of the light that lit it; in camera channels
 * they carry the card to equal channels.
 */
export interface GreyBalance {
  /** Photos balanced with one and the same grey reference share its error. */
  readonly id: string
  /** Natural logarithms of the gains of R, G, B; a common constant is without effect. */
  readonly logGains: Triple
  /** Covariance of {@link logGains}: card noise and the stated light together. */
  readonly covariance: Matrix3
  readonly light: CardLight
}

/** How the pixels became linear light, with what is left uncertain about it. */
export type Linearity =
  /** Linear by construction: practice bench, linear file. */
  | { readonly kind: 'linear' }
  /** Raw pixels. */
  | { readonly kind: 'raw' }
  /**
   * A tone curve recovered from an exposure sweep: this scene's own, or one kept for this camera.
   * The uncertainty is that of ln(G/R) and ln(B/R) of this colour.
   */
  | {
      readonly kind: 'sweep'
      readonly curveId: string
      readonly standardUncertaintyGreen: number
      readonly standardUncertaintyBlue: number
    }
  /**
   * One ordinary photo, decoded with its colour space's nominal curve. Photos with the same
   * `curveId` (camera, lens, capture path, picture style) are taken to share one unknown tone curve.
   */
  | {
      readonly kind: 'single'
      readonly curveId: string
      /** Stored codes (code / top code, 0..1) of the region, before decoding and balancing. */
      readonly storedLevels: Triple
      /** The file's own RGB space, on whose channels a tone curve acts. */
      readonly space: RgbSpace
    }

/** A surface as a colour reading sees it: only the slope of its emissivity matters. */
export interface SurfaceSlope {
  /** Material id; two pieces with one id share the error of the slope. */
  readonly id: string
  /** ln(emissivity at 550 nm / at 650 nm), 0 for a grey body; above 0 reads hot. */
  readonly lnGreenOverRed: number
  readonly standardUncertainty: number
}

/** Glass or the like between glow and camera, by its transmittance slope. */
export interface WindowSlope {
  readonly id: string
  /** ln(transmittance at 550 nm / at 650 nm). */
  readonly lnGreenOverRed: number
  readonly standardUncertainty: number
}

/** What the region statistics found out about the pixels. */
export interface RegionQuality {
  /** Share of the pixels left out because a channel was at the top, 0..1. */
  readonly clippedShare: number
  /** Share of the pixels whose red, green, blue was at the floor (code 0), 0..1. */
  readonly floorShare: Triple
  /** Background that was subtracted over what is left of the glow (red channel), 0..1 and above. */
  readonly backgroundShare: number
  /** Narrowest extent of the glow, pixels. */
  readonly glowWidthPixels: number
  /** The file stores colour at half resolution (4:2:0 and the like). */
  readonly chromaSubsampled: boolean
}

/** One photo of something of known temperature: an observation of this camera's own locus. */
export interface KnownHeatReference {
  readonly id: string
  readonly name: string
  readonly cameraId: string
  /** ISO 8601. */
  readonly takenAt: string
  /**
   * True temperature, K; for a lamp its colour temperature, with a grey surface
   * (`lnGreenOverRed: 0`).
   */
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  readonly glow: LinearColour
  readonly channels: Channels
  readonly balance: GreyBalance | null
  readonly balanceState: BalanceState
  readonly linearity: Linearity
  readonly surface: SurfaceSlope
  /** Id shared by references whose temperatures err together (one lamp, one meter); else null. */
  readonly group: string | null
}

/** Everything that one reading rests on. */
export interface GlowInput {
  /** Background subtracted, not balanced, in `channels`; mean and covariance of that mean. */
  readonly glow: LinearColour
  readonly channels: Channels
  /**
   * Camera channels to XYZ (the inverse of a raw file's colour matrix for daylight), else null. With
   * it raw pixels are read by the locus of colour-managed cameras, which is the better known one;
   * without it by that of raw channels.
   */
  readonly cameraToXyz: Matrix3 | null
  readonly balance: GreyBalance | null
  readonly balanceState: BalanceState
  readonly linearity: Linearity
  readonly quality: RegionQuality
  readonly surface: SurfaceSlope
  readonly window: WindowSlope | null
  readonly cameraId: string
  /** ISO 8601, or null when unknown. */
  readonly takenAt: string | null
  readonly references: readonly KnownHeatReference[]
}

/** Terms of the uncertainty budget. */
export type BudgetTerm =
  /** What is not known about this camera's locus after all references. */
  | 'camera'
  /** Temperatures of the references used. */
  | 'reference temperature'
  /** Pixel noise, grey card and curve of the references' photos. */
  | 'reference photo'
  | 'pixel noise'
  | 'grey reference'
  | 'tone curve'
  | 'surface'
  | 'window'
  /** Colour at half resolution on a thin glow. */
  | 'thin glow'
  /** The measured colour lies off the camera's locus. */
  | 'off locus'

export interface Contribution {
  readonly term: BudgetTerm
  readonly standardUncertaintyK: number
}

/** What would shrink the uncertainty most, with what it would then be. */
export interface Advice {
  readonly code:
    | 'known heat'
    | 'second known heat'
    | 'sweep or raw'
    | 'matched level'
    | 'grey reference'
    | 'surface'
    | 'more light'
    | 'set white balance'
    | 'find cause of tint'
    | 'nothing'
  /** For a known heat: where it is best, K. */
  readonly nearK: number | null
  /** Standard uncertainty after following the advice, K. */
  readonly predictedStandardUncertaintyK: number
}

export type ReferenceStatus =
  | 'used'
  /** Disagrees with the rest of the evidence; used, with the interval widened. */
  | 'conflicting'
  | 'other camera'
  | 'other channels'
  | 'other white balance'
  /** White balance automatic or unknown, there or here. */
  | 'white balance not fixed'
  /** Below the locus's range or a channel at or below zero. */
  | 'out of range'

export interface ReferenceUse {
  readonly id: string
  readonly name: string
  readonly status: ReferenceStatus
  /**
   * (observed - expected from prior and all other references) / its standard deviation; null when
   * not comparable.
   */
  readonly standardisedResidual: number | null
  /** Days between reference and reading; null when a date is unknown. */
  readonly ageDays: number | null
}

/** What an eye-like observer (CIE 1931) would say of the balanced colour. */
export interface EyeView {
  readonly x: number
  readonly y: number
  /** CIE 1976 u', v'. */
  readonly u: number
  readonly v: number
  /** Covariance of (u', v'), two by two by rows. */
  readonly covarianceUv: readonly [number, number, number, number]
  /** Covariance of (x, y), two by two by rows. */
  readonly covarianceXy: readonly [number, number, number, number]
  /** Correlated colour temperature, K; null where undefined. */
  readonly cctK: number | null
  readonly standardUncertaintyCctK: number | null
  /** Distance from the Planckian locus in 1960 uv, positive above (greener). */
  readonly duv: number | null
  readonly standardUncertaintyDuv: number | null
}

/** Is the colour one that this camera can see in a glowing body? */
export interface OffLocusTest {
  /** Squared distance from the locus in units of its variance, one degree of freedom. */
  readonly chiSquared: number
  /** Chance of a distance at least as large for a glow that is one. */
  readonly probability: number
  readonly verdict:
    | 'on the locus'
    /** More blue than a glow has: infrared leak, haze, flare, stray light. */
    | 'too blue'
    /** Less blue, or greener or pinker, than a glow: tint, white balance, not thermal. */
    | 'too yellow'
    /** Blue is at or below zero or has no weight: nothing to test with. */
    | 'not testable'
}

export type Finding =
  | { readonly code: 'no grey reference' }
  | { readonly code: 'white balance automatic' }
  | { readonly code: 'white balance unknown' }
  | { readonly code: 'tone curve unknown' }
  | { readonly code: 'clipped'; readonly share: number }
  | { readonly code: 'green at floor'; readonly share: number }
  | { readonly code: 'background'; readonly share: number }
  | { readonly code: 'thin glow'; readonly widthPixels: number }
  | { readonly code: 'off locus'; readonly verdict: 'too blue' | 'too yellow' }
  | {
      readonly code: 'reference conflicts'
      readonly referenceId: string
      readonly standardisedResidual: number
    }
  | { readonly code: 'reference old'; readonly referenceId: string; readonly ageDays: number }
  | {
      readonly code: 'reference not used'
      readonly referenceId: string
      readonly status: ReferenceStatus
    }
  | { readonly code: 'beyond range of locus'; readonly limitK: number }

export interface TemperatureEstimate {
  readonly kind: 'temperature'
  /** True temperature, surface and window allowed for, K. */
  readonly temperatureK: number
  /** What a grey body of the same colour would have, K. */
  readonly colourTemperatureK: number
  readonly standardUncertaintyK: number
  /** Half of the width of {@link interval95K}, K. */
  readonly expandedUncertaintyK: number
  /** Contains the truth with 95 % probability; need not be symmetric. */
  readonly interval95K: readonly [number, number]
  /** Largest first; squares add up to the squared standard uncertainty. */
  readonly budget: readonly Contribution[]
  readonly dominant: BudgetTerm
  readonly advice: Advice
  readonly referencesUsed: readonly ReferenceUse[]
  readonly offLocus: OffLocusTest
  readonly eye: EyeView | null
  readonly findings: readonly Finding[]
}

export interface BelowRange {
  readonly kind: 'below range'
  /** With 95 % probability the temperature is not above this, K. */
  readonly upperBoundK: number
  readonly eye: EyeView | null
  readonly findings: readonly Finding[]
}

export interface NoNumber {
  readonly kind: 'no number'
  readonly reason: /** Too many clipped pixels: expose less. */
    | 'clipped'
    /** Red is not above its own noise. */
    | 'dark'
    /** Not red enough for anything that glows by heat within range. */
    | 'above range'
    /** A value was not finite or an uncertainty negative. */
    | 'bad input'
  readonly eye: EyeView | null
  readonly findings: readonly Finding[]
}

export type GlowEstimate = TemperatureEstimate | BelowRange | NoNumber

/** The camera's locus as a band to draw: G/R of a grey body over temperature. */
export interface LocusBand {
  readonly temperatureK: readonly number[]
  readonly median: readonly number[]
  /** Holds the camera with 95 % probability at each temperature. */
  readonly low95: readonly number[]
  readonly high95: readonly number[]
}

/** What references have taught about a camera, to draw. */
export interface LocusView {
  /** Before any reference. */
  readonly prior: LocusBand
  /** With all references that count. */
  readonly posterior: LocusBand
  readonly references: readonly {
    readonly id: string
    readonly temperatureK: number
    readonly standardUncertaintyK: number
    readonly greenOverRed: number
    readonly standardUncertainty: number
  }[]
}
