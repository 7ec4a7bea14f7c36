import { xyzFromXy } from '../colour/chromaticity.ts'
import { linearP3FromXyz } from '../colour/rgb-spaces.ts'
import { diagonal, type Matrix3, propagate, type Triple } from '../numerics/matrix3.ts'
import { addMatrices, meanOuterProduct } from '../numerics/statistics.ts'
import { type CardLightId, type LightColour, lightColour } from './card-light.ts'
import type { LightFinding } from './finding.ts'
import type { Channels, LightImage, LinearColour, Region } from './image.ts'
import { measurePatch, type Patch } from './patch.ts'
import { measureUnevenness, type Unevenness } from './unevenness.ts'

/** Gains found on a grey reference; see {@link balanceFromGrey}. */
export interface MeasuredGrey {
  /** Natural logarithms of the gains of R, G, B; that of red is 0. */
  readonly logGains: Triple
  readonly covariance: Matrix3
  readonly light: {
    readonly kind: 'daylight' | 'filament' | 'other'
    readonly colourTemperatureK: number
    readonly standardUncertaintyK: number
  }
}

/**
 * Share of a balance's size (in ln G and ln B against ln R) by which it can be wrong for a glow.
 *
 * What the camera's own balance did it did in its raw channels, and then chose a matrix; undoing it
 * afterwards is a guess at both. Simulated for 52 measured cameras balanced for D50 instead of the
 * D65 on the card, glow at 1173 K, true correction of ln(G/R) by gains of 0.17: where the matrix was
 * chosen anew the P3 diagonal is off by -0.10 and Bradford by -0.04; where it was kept, the diagonal
 * is off by +0.04 and Bradford by +0.09. Neither space is right for both; 0.4 covers both.
 * A camera locked on the light of the card needs no correction and pays nothing.
 */
export const BALANCE_UNCERTAINTY = 0.4

/**
 * Gains that carry a grey card to the chromaticity of the light that lit it.
 *
 * Not to white: a card under a 2700 K lamp is orange, and the glow is to be seen with the same eye.
 * The gains act on each channel of linear Display P3 (von Kries 1902).
 * In camera channels the gains carry the card to equal channels; the locus is then counted from
 * this light.
 *
 * A common factor of the gains is without effect on chromaticity; the red gain is set to 1.
 * The covariance holds the noise of the card, the chromaticity of the light, what the camera makes
 * of its spectrum, and the {@link BALANCE_UNCERTAINTY}.
 *
 * @param card mean linear colour of the card, all channels > 0 (see {@link measureGrey})
 */
export function balanceFromGrey(reference: {
  card: LinearColour
  light: CardLightId
  channels?: Channels
}): MeasuredGrey {
  const { card, light, channels = 'display-p3' } = reference
  const colour = lightColour(light)
  const relative: Triple = [1 / card.mean[0], 1 / card.mean[1], 1 / card.mean[2]]
  const noise = propagate(diagonal(relative), card.covariance)
  const target = channels === 'display-p3' ? expectedLight(colour) : neutral
  const log = ([0, 1, 2] as const).map((c) => Math.log(target.rgb[c] / card.mean[c]))
  const lessRed: Matrix3 = [
    [0, 0, 0],
    [-1, 1, 0],
    [-1, 0, 1],
  ]
  const logGains: Triple = [0, log[1]! - log[0]!, log[2]! - log[0]!]
  // In raw the card itself defines the balance: nothing is undone.
  const space = channels === 'display-p3' ? BALANCE_UNCERTAINTY ** 2 : 0
  return {
    logGains,
    covariance: addMatrices(
      propagate(lessRed, addMatrices(noise, target.logCovariance)),
      meanOuterProduct([logGains], space),
    ),
    light: {
      kind: light.kind === 'daylight' || light.kind === 'filament' ? light.kind : 'other',
      colourTemperatureK: colour.colourTemperatureK,
      standardUncertaintyK: colour.standardUncertaintyK,
    },
  }
}

interface Target {
  readonly rgb: Triple
  readonly logCovariance: Matrix3
}

const neutral: Target = { rgb: [1, 1, 1], logCovariance: diagonal([0, 0, 0]) }

/** Linear P3 of a light and the covariance of its logarithms. */
function expectedLight({ xy, covariance, spectral }: LightColour): Target {
  const at = (x: number, y: number): Triple => {
    const [r, g, b] = linearP3FromXyz(xyzFromXy({ x, y }))
    // Below 1000 K blue leaves P3; no light on a card is that red.
    return [Math.max(r, 1e-6), Math.max(g, 1e-6), Math.max(b, 1e-6)]
  }
  const rgb = at(xy.x, xy.y)
  const step = 1e-5
  const slope = (moved: Triple): Triple => [
    Math.log(moved[0] / rgb[0]) / step,
    Math.log(moved[1] / rgb[1]) / step,
    Math.log(moved[2] / rgb[2]) / step,
  ]
  const dx = slope(at(xy.x + step, xy.y))
  const dy = slope(at(xy.x, xy.y + step))
  const jacobian: Matrix3 = [
    [dx[0], dy[0], 0],
    [dx[1], dy[1], 0],
    [dx[2], dy[2], 0],
  ]
  const chromaticity: Matrix3 = [
    [covariance[0][0], covariance[0][1], 0],
    [covariance[1][0], covariance[1][1], 0],
    [0, 0, 0],
  ]
  return {
    rgb,
    logCovariance: addMatrices(
      propagate(jacobian, chromaticity),
      diagonal([0, spectral.green ** 2, spectral.blue ** 2]),
    ),
  }
}

export type GreyFinding = LightFinding<
  'empty' | 'too small' | 'clipped' | 'dark' | 'on the glow' | 'uneven'
>

/** A grey region measured, with what speaks against using it. */
export interface GreyMeasurement {
  readonly region: Region
  readonly card: LinearColour
  readonly patch: Patch
  readonly unevenness: Unevenness
  readonly findings: readonly GreyFinding[]
  readonly refused: boolean
}

const LEAST_PIXELS = 100
/** Linear level below which a card is too dark, and the largest relative uncertainty of a channel. */
const LEAST_LEVEL = 0.02
const LARGEST_RELATIVE = 0.05
/** A card this much redder than the stated light is no card: factor of G/R. */
const TOO_RED = 0.5
/** Standard deviations over the card: of its level (a shadow's edge), of its ln(G/R). */
const UNEVEN_LEVEL = 0.3
const UNEVEN_COLOUR = 0.04

/** Measures the grey reference and checks whether it can be one. */
export function measureGrey(
  image: LightImage,
  region: Region,
  light: CardLightId,
): GreyMeasurement {
  const patch = measurePatch(image, region)
  const unevenness = measureUnevenness(image, region, null)
  const findings: GreyFinding[] = []
  const refuse = (code: GreyFinding['code'], values: GreyFinding['values']) =>
    findings.push({ code, weight: 'refusal', values })
  const [r, g, b] = patch.colour.mean
  if (patch.refusal === 'empty') refuse('empty', {})
  else if (patch.pixels < LEAST_PIXELS) {
    refuse('too small', { pixels: patch.pixels, leastPixels: LEAST_PIXELS })
  } else if (patch.refusal === 'clipped') refuse('clipped', { share: patch.clippedShare })
  else {
    const expected =
      image.channels === 'display-p3' ? expectedLight(lightColour(light)).rgb : neutral.rgb
    const expectedRatio = Math.min(1, expected[1] / expected[0])
    const worst = Math.max(
      ...([0, 1, 2] as const).map(
        (c) => Math.sqrt(patch.colour.covariance[c][c]) / Math.max(patch.colour.mean[c], 1e-9),
      ),
    )
    if (g / r < TOO_RED * expectedRatio && r > LEAST_LEVEL) {
      refuse('on the glow', { greenOverRed: g / r, expectedGreenOverRed: expectedRatio })
    } else if (g < LEAST_LEVEL || !(b > 0)) {
      refuse('dark', { level: g, leastLevel: LEAST_LEVEL, relativeUncertainty: worst })
    } else if (unevenness.lnRedSd > UNEVEN_LEVEL || unevenness.lnGreenOverRedSd > UNEVEN_COLOUR) {
      refuse('uneven', {
        lnRedSd: unevenness.lnRedSd,
        lnGreenOverRedSd: unevenness.lnGreenOverRedSd,
      })
    } else if (!(worst <= LARGEST_RELATIVE)) {
      refuse('dark', { level: g, leastLevel: LEAST_LEVEL, relativeUncertainty: worst })
    }
  }
  return {
    region,
    card: patch.colour,
    patch,
    unevenness,
    findings,
    refused: findings.length > 0,
  }
}
