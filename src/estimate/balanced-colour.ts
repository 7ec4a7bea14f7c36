/**
 * From a measured colour to the two ratios that the locus is about: G/R and B/R of the glow as a
 * camera balanced on the stated light delivers it, with their variances by cause.
 */
import { xyzFromXy } from '../colour/chromaticity.ts'
import { daylightXy } from '../colour/daylight.ts'
import { planckianXy } from '../colour/planckian-locus.ts'
import { linearP3FromXyz, P3_FROM_XYZ, WHITE_D65 } from '../colour/rgb-spaces.ts'
import type { LinearColour } from '../light/image.ts'
import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  propagate,
  type Triple,
  transform,
} from '../numerics/matrix3.ts'
import { onceForNumber } from '../numerics/once-for.ts'
import type { BalanceState, CardLight, GreyBalance } from './types.ts'

/** Variance of a ratio by cause. */
export interface RatioVariance {
  readonly pixel: number
  readonly balance: number
}

export interface BalancedColour {
  /** Balanced linear colour: Display P3, or camera channels over those of the card. */
  readonly rgb: Triple
  /** Covariance of {@link rgb} from all causes. */
  readonly covariance: Matrix3
  /** G/R and B/R. */
  readonly green: number
  readonly blue: number
  readonly greenVariance: RatioVariance
  readonly blueVariance: RatioVariance
  /**
   * The card was lit by a filament lamp of this temperature: the camera saw the lamp through its
   * own locus. Null where the card's light is one that the camera is balanced for.
   */
  readonly lampOnCardK: number | null
}

/**
 * Without a grey card: how far the gains of a camera locked on a state lie from that light,
 * standard uncertainty of ln(G/R) and ln(B/R). Presets are named after 5200 to 5600 K and phones
 * differ; an unknown balance lies anywhere between lamp light and shade. Common practice.
 */
const NO_CARD = {
  known: { green: 0.06, blue: 0.12 },
  unknown: { green: 0.3, blue: 0.6 },
} as const
/** Locus of the lamp preset counts from illuminant A, that of daylight from D65. */
const LAMP_PRESET_K = 2856

/** G/R and B/R of a light in linear Display P3: what a grey card under it is carried to. */
export function lightInP3(light: Pick<CardLight, 'kind' | 'colourTemperatureK'>): Triple {
  const planckian = light.kind === 'filament' || light.colourTemperatureK < 4000
  const xy = planckian
    ? planckianXy(light.colourTemperatureK)
    : daylightXy(light.colourTemperatureK)
  return linearP3FromXyz(xyzFromXy(xy))
}

/** The light of a filament lamp likewise; equations ask for the same lamp again and again. */
export const filamentInP3 = onceForNumber((colourTemperatureK) =>
  lightInP3({ kind: 'filament', colourTemperatureK }),
)

/**
 * Display P3 (or camera channels without a matrix): gains act on the channels as they are.
 *
 * @param colour background subtracted
 */
export function balanceP3(
  colour: LinearColour,
  balance: GreyBalance | null,
  state: BalanceState,
): BalancedColour {
  if (balance === null) return unbalancedP3(colour, state)
  const gains = exponentials(balance.logGains)
  const lamp = balance.light.kind === 'filament' ? balance.light.colourTemperatureK : null
  return ratios(colour, diagonal(gains), balance.covariance, lamp)
}

/** No card: the picture shows the light of the preset as white; carry it back to that light. */
function unbalancedP3(colour: LinearColour, state: BalanceState): BalancedColour {
  const known = state.kind === 'daylight' || state.kind === 'lamp' || state.kind === 'locked'
  const kelvin =
    state.kind === 'daylight'
      ? 6504
      : (state.colourTemperatureK ?? (state.kind === 'lamp' ? LAMP_PRESET_K : 6504))
  const white = lightInP3({ kind: 'other', colourTemperatureK: kelvin })
  const gains: Triple = [1, white[1] / white[0], white[2] / white[0]]
  const u = known ? NO_CARD.known : NO_CARD.unknown
  return ratios(colour, diagonal(gains), diagonal([0, u.green ** 2, u.blue ** 2]), null)
}

/**
 * Raw pixels with the file's colour matrix: the camera becomes one that is balanced on D65 and
 * colour-managed, whose locus is better known than that of raw channels.
 *
 * With a card in daylight the gains act on the raw channels, where the camera's own gains would.
 * Under any other light they act after the matrix: there the matrix, not the card, says what
 * daylight is.
 *
 * @param toXyz camera channels to XYZ; only its rows' direction counts
 */
export function balanceRawWithMatrix(
  colour: LinearColour,
  balance: GreyBalance | null,
  toXyz: Matrix3,
): BalancedColour {
  const daylightRaw = transform(invert(toXyz), xyzFromXy(WHITE_D65))
  const card: Triple = balance === null ? daylightRaw : inverted(exponentials(balance.logGains))
  if (balance === null || balance.light.kind === 'daylight') {
    const matrix = whitePreserving(multiply(P3_FROM_XYZ, multiply(toXyz, diagonal(daylightRaw))))
    const gains = inverted(card)
    const light = balance?.light ?? {
      kind: 'daylight' as const,
      colourTemperatureK: 6504,
      standardUncertaintyK: 0,
    }
    const white = lightInP3(light)
    const toWhite = diagonal([1, white[1] / white[0], white[2] / white[0]])
    const u = NO_CARD.known
    const covariance = balance?.covariance ?? diagonal([0, u.green ** 2, u.blue ** 2])
    const balanced = ratios(
      colour,
      multiply(toWhite, multiply(matrix, diagonal(gains))),
      covariance,
      null,
    )
    return withLightUncertainty(balanced, light)
  }
  const toP3 = whitePreserving(multiply(P3_FROM_XYZ, multiply(toXyz, diagonal(daylightRaw))))
  const matrix = multiply(toP3, diagonal(inverted(daylightRaw)))
  const cardP3 = transform(matrix, card)
  const white = lightInP3(balance.light)
  const target: Triple = [white[0] / cardP3[0], white[1] / cardP3[1], white[2] / cardP3[2]]
  // The card's error of logs, carried to the logs of its P3 colour.
  const toCardLogs = multiply(diagonal(inverted(cardP3)), multiply(matrix, diagonal(card)))
  const lamp = balance.light.kind === 'filament' ? balance.light.colourTemperatureK : null
  const balanced = ratios(
    colour,
    multiply(diagonal(target), matrix),
    propagate(toCardLogs, balance.covariance),
    lamp,
    true,
  )
  return withLightUncertainty(balanced, balance.light)
}

/**
 * The ratios of A times the colour.
 *
 * @param logCovariance of the logarithms of the gains that are part of A
 * @param after whether these gains act after the matrix in A (else before it)
 */
function ratios(
  colour: LinearColour,
  a: Matrix3,
  logCovariance: Matrix3,
  lampOnCardK: number | null,
  after = false,
): BalancedColour {
  const rgb = transform(a, colour.mean)
  const pixel = propagate(a, colour.covariance)
  // d rgb / d log gain, column by column.
  const byGain = after ? diagonal(rgb) : multiply(a, diagonal(colour.mean))
  const balance = propagate(byGain, logCovariance)
  const [r, g, b] = rgb
  const green: Triple = [-g / (r * r), 1 / r, 0]
  const blue: Triple = [-b / (r * r), 0, 1 / r]
  return {
    rgb,
    covariance: added(pixel, balance),
    green: g / r,
    blue: b / r,
    greenVariance: { pixel: along(green, pixel), balance: along(green, balance) },
    blueVariance: { pixel: along(blue, pixel), balance: along(blue, balance) },
    lampOnCardK,
  }
}

/** Gains in camera channels do not know the light's colour; here it enters, with its uncertainty. */
function withLightUncertainty(
  colour: BalancedColour,
  light: Pick<CardLight, 'kind' | 'colourTemperatureK' | 'standardUncertaintyK'>,
): BalancedColour {
  const step = 10
  const hot = lightInP3({ ...light, colourTemperatureK: light.colourTemperatureK + step })
  const cold = lightInP3({ ...light, colourTemperatureK: light.colourTemperatureK - step })
  const relative = (channel: 1 | 2) =>
    (Math.log(hot[channel] / hot[0] / (cold[channel] / cold[0])) / (2 * step)) *
    light.standardUncertaintyK
  const widened = (v: RatioVariance, ratio: number, channel: 1 | 2): RatioVariance => ({
    pixel: v.pixel,
    balance: v.balance + (ratio * relative(channel)) ** 2,
  })
  return {
    ...colour,
    greenVariance: widened(colour.greenVariance, colour.green, 1),
    blueVariance: widened(colour.blueVariance, colour.blue, 2),
  }
}

function whitePreserving(m: Matrix3): Matrix3 {
  const row = (r: Triple): Triple => {
    const sum = r[0] + r[1] + r[2]
    return [r[0] / sum, r[1] / sum, r[2] / sum]
  }
  return [row(m[0]), row(m[1]), row(m[2])]
}

const exponentials = (v: Triple): Triple => [Math.exp(v[0]), Math.exp(v[1]), Math.exp(v[2])]
const inverted = (v: Triple): Triple => [1 / v[0], 1 / v[1], 1 / v[2]]

const along = (v: Triple, m: Matrix3): number => {
  let sum = 0
  for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) sum += v[i]! * m[i]![j]! * v[j]!
  return sum
}

const added = (a: Matrix3, b: Matrix3): Matrix3 => {
  const row = (p: Triple, q: Triple): Triple => [p[0] + q[0], p[1] + q[1], p[2] + q[2]]
  return [row(a[0], b[0]), row(a[1], b[1]), row(a[2], b[2])]
}
