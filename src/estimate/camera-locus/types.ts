/** The camera locus as a data file holds it: derive.ts makes it, camera-locus.ts evaluates it. */

/** Which light a camera was balanced for, or that it was not balanced at all. */
export type LocusState = 'daylight' | 'lamp' | 'raw'

/**
 * One channel ratio over reciprocal temperature: mean + sum of coefficient times loading.
 * The coefficients of an unseen camera have mean 0 and variance 1, independent of each other.
 */
export interface RatioLocus {
  readonly mean: readonly number[]
  readonly loadings: readonly (readonly number[])[]
}

/**
 * Infrared that a filter lets through, over the visible red, as the camera delivers it: natural
 * logarithms, for a filter that let all of it in. Loadings share their coefficients over the channels.
 */
export interface LeakLocus {
  readonly red: RatioLocus
  readonly green: RatioLocus
  readonly blue: RatioLocus
}

export interface StateLocus {
  /**
   * `linear`: the curves are the ratio itself. `log`: they are its natural logarithm.
   */
  readonly scale: 'linear' | 'log'
  /** G/R. */
  readonly green: RatioLocus
  /** B/R; the first loadings belong to the coefficients of green, the others are its own. */
  readonly blue: RatioLocus
  readonly leak: LeakLocus
}

export interface CameraLocus {
  readonly source: string
  readonly licence: string
  readonly cameras: number
  /** Nodes evenly spaced in 1/T from 1/hottest to 1/coldest. */
  readonly hottestK: number
  readonly coldestK: number
  readonly states: Readonly<Record<LocusState, StateLocus>>
}
