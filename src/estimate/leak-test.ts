/**
 * Tests of a camera's infrared filter that anybody can do in a dark shop, and what they say of the
 * leak: the larger it is, the likelier the infrared is seen.
 */
import { normalCdf, normalDensity } from '../numerics/heavy-tails.ts'
import type { LeakTestId } from './leak-test-ids.ts'

export interface LeakTest {
  readonly test: LeakTestId
  /** The lamp of the remote control shows; the plate shows violet, pink or white, not deep red. */
  readonly seen: boolean
  /** What a picture of it says: the leak, and the standard uncertainty of its logarithm. Absent: by eye. */
  readonly measured?: { readonly leak: number; readonly lnSd: number }
}

/** The leak at which half of the people see it, and the spread of its logarithm. */
interface Threshold {
  readonly leak: number
  readonly lnSd: number
}

/**
 * Remote control: 20 mW/sr at 940 nm in pulses, a tenth of the time, from a lens of 5 mm are some
 * 100 W/(m² sr); silicon sees 0.4 of its peak there. White under 300 lx is 76 cd/m², 0.3 W/(m² sr)
 * at 250 lm/W; a spot of a thirtieth of it shows in the picture of a lit room. From typical figures, by
 * memory; lamps and rooms differ threefold either way.
 *
 * Hot plate: at 490 °C the locus (leak-locus.ts) has B/R of 0.06 without a leak and 0.18 with 1e-4, which
 * is deep red and violet. Vivid colours, the tone curve and the plate's own temperature blur that twofold.
 */
const SEEN_FROM: Readonly<Record<LeakTestId, Threshold>> = {
  'remote control': { leak: 2.5e-4, lnSd: 1.2 },
  'hot plate': { leak: 1e-4, lnSd: 0.7 },
}

/** Of the remote control's lamp, see above: light that silicon sees of it, W/(m² sr). */
const LAMP_RADIANCE = 40
/** Visible light of a white LED room, lm/W. */
const LUMENS_PER_WATT = 250
/**
 * Luminance that an exposure shows as linear 1, cd/m², times shutter time and ISO over the f-number squared:
 * 10 lx s at ISO 1 are shown as 18 % grey (ISO 12232, standard output sensitivity), with 0.65 of the
 * luminance times the time over the f-number squared reaching the sensor (ISO 2720).
 */
const LUMINANCE_OF_ONE = 10 / 0.65 / 0.18

/**
 * What the picture of a remote control's lamp says of the leak. Lamps differ threefold either way, and
 * pictures are brightened: no more than the eye can tell, but a number.
 *
 * @param level linear light of the lamp less that of its surroundings, 0..1
 */
export function leakOfRemoteControl(
  level: number,
  { exposureSeconds, iso, fNumber }: { exposureSeconds: number; iso: number; fNumber: number },
): { readonly leak: number; readonly lnSd: number } {
  const luminance = (LUMINANCE_OF_ONE * level * fNumber ** 2) / (exposureSeconds * iso)
  return { leak: luminance / LUMENS_PER_WATT / LAMP_RADIANCE, lnSd: 1.2 }
}

/** How likely the results of these tests are with a leak above 0, each for itself. */
export function leakTestLikelihood(tests: readonly LeakTest[], leak: number): number {
  return tests.reduce((product, { test, seen, measured }) => {
    if (measured) return product * normalDensity(Math.log(leak / measured.leak), measured.lnSd)
    const { leak: from, lnSd } = SEEN_FROM[test]
    const z = Math.log(leak / from) / lnSd
    return product * normalCdf(seen ? z : -z)
  }, 1)
}
