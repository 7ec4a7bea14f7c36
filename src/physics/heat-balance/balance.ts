import { STEFAN_BOLTZMANN } from '../constants.ts'
import type { Body } from './shape.ts'
import { apparentEmissivity } from './view-factor.ts'

/** Something warm that hides part of the room: a tube, a groove in brick, a hood. */
export interface Shield {
  /** Share of the object's outward view that it takes, 0..1. */
  readonly share: number
  /** Its temperature, K; left out, it is as hot as the object and gives all back. */
  readonly temperatureK?: number
  /** Share of the object in the shield's own air, which is as hot as the shield: 1 in a closed tube. */
  readonly airShare?: number
}

export interface Surroundings {
  readonly roomK: number
  readonly shield?: Shield
  /** Multiplies the convective loss; 1 unless an uncertainty is being propagated. */
  readonly convectionScale: number
  /** See Body.convection. */
  readonly openness: number
}

/** Steady losses of a glowing object, W. Negative where it is the colder one. */
export interface Losses {
  readonly radiationW: number
  readonly shieldW: number
  readonly convectionW: number
}

/**
 * Heat that a body at a temperature loses to its surroundings: Stefan-Boltzmann with the body's
 * self-view, and natural convection. Heat led away by clamps and leads is not in it; the share of
 * the power that the glowing part takes is the place for that.
 *
 * @param emissivity total hemispherical emissivity at that temperature
 */
export function lossesAt(
  body: Body,
  temperatureK: number,
  emissivity: number,
  around: Surroundings,
): Losses {
  const { roomK, shield, convectionScale, openness } = around
  const share = shield?.share ?? 0
  const shieldK = shield?.temperatureK ?? temperatureK
  const enclosed = shield?.airShare ?? 0
  const inAir = (airK: number) => body.convection(temperatureK, airK, openness)
  const radiating = STEFAN_BOLTZMANN * body.areaM2 * apparentEmissivity(emissivity, body.escape)
  return {
    radiationW: radiating * (1 - share) * (temperatureK ** 4 - roomK ** 4),
    shieldW: radiating * share * (temperatureK ** 4 - shieldK ** 4),
    convectionW: convectionScale * ((1 - enclosed) * inAir(roomK) + enclosed * inAir(shieldK)),
  }
}

export const totalLoss = (losses: Losses): number =>
  losses.radiationW + losses.shieldW + losses.convectionW

/** No heating material stays solid above, K. */
export const HOTTEST_BALANCE_K = 4500

/**
 * Temperature at which the losses equal a power: bisection with secant steps (Illinois rule), to the
 * last digits of a double, so that power and losses agree to 1e-12.
 *
 * @param loss total loss at a temperature, W; must rise with it
 * @param powerW W, above the loss at lowK
 * @returns K, or undefined where the answer is not between lowK and HOTTEST_BALANCE_K
 */
export function balanceTemperature(
  loss: (temperatureK: number) => number,
  powerW: number,
  lowK: number,
): number | undefined {
  let a = lowK
  let b = HOTTEST_BALANCE_K
  let fa = loss(a) - powerW
  let fb = loss(b) - powerW
  if (!(fa <= 0 && fb >= 0)) return undefined
  for (let i = 0; i < 200 && b - a > 1e-13 * b; i++) {
    // Every third step halves, so that a curve that fools the secant costs only time.
    const x = i % 3 === 2 ? (a + b) / 2 : (a * fb - b * fa) / (fb - fa)
    const fx = loss(x) - powerW
    if (fx === 0) return x
    if (fx < 0) {
      a = x
      fa = fx
    } else {
      b = x
      fb = fx
    }
  }
  return Math.abs(fa) < Math.abs(fb) ? a : b
}
