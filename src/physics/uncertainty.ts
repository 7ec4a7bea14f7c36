/** One input of a measurement, with its standard uncertainty and, if it has them, its limits. */
export interface UncertainInput<Code extends string = string> {
  readonly code: Code
  readonly value: number
  readonly standardUncertainty: number
  /** The value is never moved below this (an emissivity below 0, say). */
  readonly least?: number
  /** The value is never moved above this. */
  readonly most?: number
}

/** What one input adds to the standard uncertainty of the result, in the result's unit. */
export interface UncertaintyContribution<Code extends string = string> {
  readonly code: Code
  /** The contribution |dy/dx| u(x), never negative. */
  readonly standardUncertainty: number
  /** dy/dx. */
  readonly sensitivity: number
}

export interface Propagated<Code extends string = string> {
  readonly value: number
  readonly standardUncertainty: number
  /** Largest first. */
  readonly contributions: readonly UncertaintyContribution<Code>[]
}

/**
 * Law of propagation of uncertainty for independent inputs, sensitivities by central differences
 * over plus and minus one standard uncertainty (so that a curved model is averaged over the span
 * that matters).
 *
 * @param model maps the inputs' values, in their order, to the result
 * @returns value, combined standard uncertainty and contributions; NaN where the model gives NaN
 * Source: JCGM 100:2008 (GUM), eq. 10 and 5.1.3 note 2.
 */
export function propagateUncertainty<Code extends string>(
  model: (values: readonly number[]) => number,
  inputs: readonly UncertainInput<Code>[],
): Propagated<Code> {
  const values = inputs.map((input) => input.value)
  const moved = (index: number, to: number): number =>
    model(values.map((value, i) => (i === index ? to : value)))
  const contributions = inputs.map((input, i) => {
    const { code, value, standardUncertainty: u, least = -Infinity, most = Infinity } = input
    const low = Math.max(value - u, least)
    const high = Math.min(value + u, most)
    const sensitivity = high > low ? (moved(i, high) - moved(i, low)) / (high - low) : 0
    return { code, sensitivity, standardUncertainty: Math.abs(sensitivity) * u }
  })
  return {
    value: model(values),
    standardUncertainty: rootSumSquare(contributions.map((c) => c.standardUncertainty)),
    contributions: contributions.sort((a, b) => b.standardUncertainty - a.standardUncertainty),
  }
}

/** Combined standard uncertainty of independent terms (GUM eq. 11a). */
export const rootSumSquare = (terms: readonly number[]): number => Math.hypot(...terms)

/** Standard uncertainty of a value known only to lie within +-halfWidth (GUM 4.3.7). */
export const rectangularUncertainty = (halfWidth: number): number => halfWidth / Math.sqrt(3)
