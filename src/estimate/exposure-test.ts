/**
 * Whether a camera's stated exposures are true: linear levels of one steady scene at several settings.
 * A shutter's label is nominal (1/60 s for the 1/64 s of the series in powers of two, APEX as in
 * Exif 2.32, annex C), and gain follows ISO only roughly.
 */
import { CLIPPED, FLOOR } from '../light/image.ts'
import type { LightMap } from '../light/raw-pair/light-map.ts'
import { average, median, robustSd } from '../numerics/statistics.ts'
import { type Exposure, exposureFactor } from '../physics/brightness.ts'

/** One setting: ln of the light that it gathers over what it states, against the mean of all settings. */
export interface MeasuredExposure extends Exposure {
  readonly lnOff: number
  readonly standardUncertainty: number
}

export interface ExposedScene {
  readonly exposure: Exposure
  /** Of raw pixels: levels of others are bent by a tone curve. */
  readonly map: LightMap
}

export type ExposureTest =
  | { readonly kind: 'measured'; readonly exposures: readonly MeasuredExposure[] }
  | { readonly kind: 'refused'; readonly reason: ExposureTestRefusal }

export type ExposureTestRefusal =
  /** Two settings at least. */
  | 'one setting'
  /** The pictures are not of one size. */
  | 'other pictures'
  /** Two neighbours in exposure have no place in common that is neither clipped nor dark. */
  | 'nothing in common'
  /** What two pictures of one setting, or places of two pictures, say lies apart: something moved. */
  | 'not steady'

/** Green of a cell that says something: above the black level's error, below what may clip. */
const USABLE = [0.02, 0.9] as const
const LEAST_CELLS = 40
/** How steady light is that does not change to the eye, from photo to photo: common practice. */
const STEADY = 0.01
/** Places that scatter by more than this, ln, show that camera or light moved. */
const MOVED = 0.1
/** Two photos of one setting that lie apart by more than this, ln. */
const APART = 0.05

/** No label is off by a stop: the light has changed then. */
const LARGEST_OFF = Math.LN2

/**
 * Each photo is compared with the next longer exposure, place by place, by green: steps of any size add up
 * as long as neighbours have places in common.
 */
export function exposureTest(scenes: readonly ExposedScene[]): ExposureTest {
  const refused = (reason: ExposureTestRefusal): ExposureTest => ({ kind: 'refused', reason })
  const lnStated = ({ exposure }: ExposedScene) => Math.log(exposureFactor(exposure))
  const sorted = [...scenes].sort((a, b) => lnStated(a) - lnStated(b))
  const settings = new Map<string, { readonly exposure: Exposure; readonly off: number[] }>()
  let lnLevel = 0
  let variance = 0
  for (const [i, scene] of sorted.entries()) {
    if (i > 0) {
      const step = stepBetween(sorted[i - 1]!.map, scene.map)
      if (typeof step === 'string') return refused(step)
      lnLevel += step.ln
      variance += step.variance
    }
    const { exposureSeconds, iso, fNumber } = scene.exposure
    const key = `${exposureSeconds} ${iso} ${fNumber}`
    const known = settings.get(key) ?? { exposure: { exposureSeconds, iso, fNumber }, off: [] }
    known.off.push(lnLevel - lnStated(scene))
    settings.set(key, known)
  }
  if (settings.size < 2) return refused('one setting')
  const all = [...settings.values()]
  if (all.some(({ off }) => Math.max(...off) - Math.min(...off) > APART))
    return refused('not steady')
  const middle = average(all.map(({ off }) => average(off)))
  const exposures = all.map(({ exposure, off }) => ({
    ...exposure,
    lnOff: average(off) - middle,
    // Errors of the steps add up from one end to the other, half of them to the middle.
    standardUncertainty: Math.sqrt(STEADY ** 2 / off.length + variance / 2),
  }))
  return exposures.some(({ lnOff }) => Math.abs(lnOff) > LARGEST_OFF)
    ? refused('not steady')
    : { kind: 'measured', exposures }
}

/** ln of the later picture's light over the earlier one's. */
function stepBetween(
  dark: LightMap,
  bright: LightMap,
): { readonly ln: number; readonly variance: number } | ExposureTestRefusal {
  if (dark.width !== bright.width || dark.height !== bright.height) return 'other pictures'
  const ratios: number[] = []
  const [least, most] = USABLE
  for (let cell = 0; cell < dark.flags.length; cell++) {
    if ((dark.flags[cell]! | bright.flags[cell]!) & (CLIPPED | FLOOR)) continue
    const [a, b] = [dark.light[3 * cell + 1]!, bright.light[3 * cell + 1]!]
    if (Math.min(a, b) > least && Math.max(a, b) < most) ratios.push(Math.log(b / a))
  }
  if (ratios.length < LEAST_CELLS) return 'nothing in common'
  const sd = robustSd(ratios)
  if (sd > MOVED) return 'not steady'
  // Of a median: Kendall & Stuart, 1, ch. 14.
  return { ln: median(ratios), variance: (1.253 * sd) ** 2 / ratios.length }
}
