/** What the estimate gives: see types.ts. */

import type { FixedPointId } from '../physics/fixed-points.ts'

/** Terms of the uncertainty budget. */
export type BudgetTerm =
  /** What is not known about this camera's locus after all references. */
  | 'camera'
  /** Infrared that the camera's filter may let through. */
  | 'infrared leak'
  /** Colours made more vivid than they are. */
  | 'colour rendering'
  /** Balance that moved between the photos of card, known heat and glow. */
  | 'balance drift'
  /** Temperatures of the references used. */
  | 'reference temperature'
  /** Pixel noise, grey card and curve of the references' photos. */
  | 'reference photo'
  | 'pixel noise'
  | 'grey reference'
  | 'tone curve'
  | 'surface'
  | 'window'
  /** Colour at half resolution on a thin glow, edges sharpened by the camera. */
  | 'thin glow'
  /** The measured colour lies off the camera's locus. */
  | 'off locus'
  /** What brightness adds: place in the picture, exposure, surface, flare. */
  | 'brightness'

export interface Contribution {
  readonly term: BudgetTerm
  readonly standardUncertaintyK: number
  /** What of it moves other readings too, by cause; what is left keeps the term's own name. */
  readonly parts?: readonly SharedPart[]
}

export interface SharedPart {
  readonly cause: string
  /** Signed: a number of the camera moves readings on both sides of a known heat against each other. */
  readonly effectK: number
}

/** What would shrink the uncertainty most, with what it would then be. */
export interface Advice {
  readonly code:
    | 'known heat'
    | 'second known heat'
    | 'sweep or raw'
    | 'matched level'
    | 'grey reference'
    /** The card photographed once more: whether white balance holds. */
    | 'try lock'
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

export interface PossibleSalt {
  readonly id: FixedPointId
  readonly chance: number
}

export interface ReferenceUse {
  readonly id: string
  readonly name: string
  readonly status: ReferenceStatus
  /**
   * (observed - expected from prior and all other references) / its standard deviation; null when
   * not comparable.
   */
  readonly standardisedResidual: number | null
  /** Another salt that it may have been, and how likely it was another one. */
  readonly otherSalt?: PossibleSalt
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

/** Share of the infrared beyond 780 nm that the camera's filter lets through. */
export interface LeakEstimate {
  readonly median: number
  readonly low95: number
  readonly high95: number
}

export type Finding =
  /** The colour speaks for infrared in the picture, surely. */
  | { readonly code: 'infrared leak'; readonly share: number }
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
      readonly otherSalt?: PossibleSalt
    }
  | { readonly code: 'reference old'; readonly referenceId: string; readonly ageDays: number }
  | {
      readonly code: 'reference not used'
      readonly referenceId: string
      readonly status: ReferenceStatus
    }
  | { readonly code: 'beyond range of locus'; readonly limitK: number }
  /** With what the standard uncertainty would be by colour alone, K. */
  | { readonly code: 'brightness joined'; readonly colourAloneK: number }
  /** The level of red does not fit the colour: surface, shutter label or flare. */
  | { readonly code: 'brightness overruled' }

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
  /** By this reading and all references. */
  readonly leak: LeakEstimate
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
