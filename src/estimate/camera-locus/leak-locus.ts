/**
 * How infrared that leaks through a camera's filter lifts its channels. The cameras are measured to
 * 780 nm; beyond, the leak is computed: Planck's law, silicon's absorption, dyes that are clear.
 * How much leaks is a number of its own; here stands what a leak of 1 would do, and how cameras and
 * depths of silicon differ in its shape.
 */
import { infraredIntegral, infraredSensitivity } from '../../light/simulate/infrared-leak.ts'
import type { CameraSensitivity } from '../../light/simulate/sensitivity.ts'
import { glowSpectrum } from '../../light/simulate/simulated-camera.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import { components, mean, weighted } from './components.ts'
import type { LeakLocus } from './types.ts'

/**
 * Depths that pixels collect from, micrometres: thin pixels of phones 3 to 6, deep ones made for the
 * near infrared tens (common practice). Deeper ones see further and so rise less with heat.
 */
const DEPTHS_MICROMETRES = [5, 10, 20, 40, 80]
const COMPONENTS = 2
/** Components are found on every sixth node: the curves are smooth. */
const EVERY = 6
/** The depth whose response stands for a leak of the stated size. */
const NOMINAL_MICROMETRES = 20
/** A colour matrix could turn infrared green below zero; so much of red is left of it. */
const LEAST_SHARE = 0.01
/** All leaks are taken as equally strong in green here, K. */
const EQUAL_AT_K = 1173

/** ln of the infrared in each channel over the visible red, at the nodes. */
export interface LeakCurves {
  readonly red: readonly number[]
  readonly green: readonly number[]
  readonly blue: readonly number[]
}

/** ln of what silicon of each depth absorbs of a glow, all alike at {@link EQUAL_AT_K}. */
export function infraredByDepth(temperaturesK: readonly number[]): number[][] {
  const nominal = infraredIntegral(glowSpectrum(EQUAL_AT_K), NOMINAL_MICROMETRES)
  return DEPTHS_MICROMETRES.map((depth) => {
    const factor = nominal / infraredIntegral(glowSpectrum(EQUAL_AT_K), depth)
    return temperaturesK.map((kelvin) =>
      Math.log(factor * infraredIntegral(glowSpectrum(kelvin), depth)),
    )
  })
}

/**
 * @param infrared of each depth at the nodes, see {@link infraredByDepth}
 * @param colours visible R, G, B as delivered, at the nodes
 * @param deliver what the camera makes of infrared that is equal in all raw channels
 * @returns one for each depth
 */
export function leakCurves(
  infrared: readonly (readonly number[])[],
  sensitivity: CameraSensitivity,
  colours: readonly Triple[],
  deliver: (infrared: number) => Triple,
): LeakCurves[] {
  const unit = deliver(infraredSensitivity(sensitivity))
  const least = LEAST_SHARE * unit[0]
  return infrared.map((curve) => {
    const channel = (c: 0 | 1 | 2) =>
      curve.map((value, i) => value + Math.log(Math.max(unit[c], least) / colours[i]![0]))
    return { red: channel(0), green: channel(1), blue: channel(2) }
  })
}

/** Mean and components over cameras and depths; the overall strength of a leak is left out. */
export function leakLocus(
  cameras: readonly (readonly LeakCurves[])[],
  weights: readonly number[],
): LeakLocus {
  const nodes = cameras[0]![0]!.green.length
  const curves = cameras.flatMap((depths) =>
    depths.map(({ red, green, blue }) => [...red, ...green, ...blue]),
  )
  const each = cameras.flatMap((depths, c) => depths.map(() => weights[c]! / depths.length))
  const centre = mean(curves, each)
  const middle = (curve: readonly number[]) => curve[nodes + Math.floor(nodes / 2)]!
  const rest = curves.map((curve) => {
    const strength = middle(curve) - middle(centre)
    return curve.map((value, i) => value - centre[i]! - strength)
  })
  const { scores } = components(
    rest.map((curve) => curve.filter((_, i) => i % EVERY === 0)),
    each,
    COMPONENTS,
  )
  const loadings = scores.map((score) => {
    const power = weighted(score, score, each)
    return centre.map(
      (_, i) =>
        weighted(
          score,
          rest.map((curve) => curve[i]!),
          each,
        ) / power,
    )
  })
  const part = (c: number) => {
    const cut = (list: readonly number[]) => list.slice(c * nodes, (c + 1) * nodes)
    return { mean: cut(centre), loadings: loadings.map(cut) }
  }
  return { red: part(0), green: part(1), blue: part(2) }
}
