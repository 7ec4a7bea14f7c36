/**
 * The shape of a camera's tone curve and the ways of applying it, from linear light 0..1 to what the
 * nominal decoding of the stored code makes of it, 0 to 0 and 1 to 1.
 *
 *   c = ((x + toe)^n - toe^n) / ((1 + toe)^n - toe^n)     straight in log-log above the toe
 *   y = c (1 + shoulder) / (1 + shoulder c)               rolled off towards the top
 */
import type { Triple } from '../numerics/matrix3.ts'

/**
 * On each channel alone; on the brightest and the darkest channel, with the middle one carried along
 * so that the hue stays (the RGB tone of the DNG reference rendering); or on the brightest with the
 * others scaled along, so that the ratios stay.
 */
export type CurveKind = 'channel' | 'hue' | 'ratio'

export interface ToneHypothesis {
  readonly kind: CurveKind
  /** Slope d ln y / d ln x at mid-grey, 18 % of full light; 1 for none. */
  readonly contrast: number
  /** Strength of the roll-off, 0 for none: slopes near the top fall by up to 1 + shoulder. */
  readonly shoulder: number
  /** Light below which the curve turns straight on linear scales, 0 for none. */
  readonly toe: number
  /** n above, so that the slope at mid-grey is the contrast. */
  readonly exponent: number
  readonly weight: number
}

const MID_GREY = 0.18
/** Halvings of an interval of 4 in the exponent: 1e-12. */
const HALVINGS = 42

/** A curve whose exponent follows from its contrast (0.4 to 2.5) at mid-grey. */
export function toneHypothesis(shape: Omit<ToneHypothesis, 'exponent'>): ToneHypothesis {
  let [low, high] = [0.2, 8]
  for (let i = 0; i < HALVINGS; i++) {
    const exponent = (low + high) / 2
    if (slopeAt({ ...shape, exponent }, MID_GREY) < shape.contrast) low = exponent
    else high = exponent
  }
  return { ...shape, exponent: (low + high) / 2 }
}

/** d ln y / d ln x at a light above 0. */
function slopeAt(curve: ToneHypothesis, light: number): number {
  const { exponent: n, toe, shoulder } = curve
  const power = (light + toe) ** n
  const straight = (n * light * power) / (light + toe) / (power - toe ** n)
  return straight / (1 + shoulder * contrasted(curve, light))
}

function contrasted({ exponent: n, toe }: ToneHypothesis, light: number): number {
  return ((light + toe) ** n - toe ** n) / ((1 + toe) ** n - toe ** n)
}

/** The curve itself; light below 0 counts as 0. */
export function bent(curve: ToneHypothesis, light: number): number {
  const c = contrasted(curve, Math.max(light, 0))
  return (c * (1 + curve.shoulder)) / (1 + curve.shoulder * c)
}

/** Inverse of {@link bent}. */
export function straightened(curve: ToneHypothesis, decoded: number): number {
  const { exponent: n, toe, shoulder } = curve
  const c = Math.max(decoded, 0) / (1 + shoulder - shoulder * decoded)
  return (c * ((1 + toe) ** n - toe ** n) + toe ** n) ** (1 / n) - toe
}

/** Linear light of a pixel to what the nominal decoding makes of it. */
export function applied(curve: ToneHypothesis, light: Triple): Triple {
  return carried(curve.kind, light, (x) => bent(curve, x))
}

/** Inverse of {@link applied}. */
export function undone(curve: ToneHypothesis, decoded: Triple): Triple {
  return carried(curve.kind, decoded, (y) => straightened(curve, y))
}

export function carried(kind: CurveKind, v: Triple, f: (x: number) => number): Triple {
  if (kind === 'channel') return [f(v[0]), f(v[1]), f(v[2])]
  const [top, bottom] = [Math.max(...v), Math.min(...v)]
  if (!(top > 0)) return v
  if (kind === 'ratio') {
    const factor = f(top) / top
    return [v[0] * factor, v[1] * factor, v[2] * factor]
  }
  const [newTop, newBottom] = [f(top), f(bottom)]
  const share = top > bottom ? (newTop - newBottom) / (top - bottom) : 0
  const along = (x: number) => newBottom + share * (x - bottom)
  return [along(v[0]), along(v[1]), along(v[2])]
}
