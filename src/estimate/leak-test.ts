/**
 * Tests of a camera's infrared filter that anybody can do in a dark shop, and what they say of the
 * leak: the larger it is, the likelier the infrared is seen.
 */
import { normalCdf } from '../numerics/heavy-tails.ts'

export const LEAK_TEST_IDS = ['remote control', 'hot plate'] as const
export type LeakTestId = (typeof LEAK_TEST_IDS)[number]

export interface LeakTest {
  readonly test: LeakTestId
  /** The lamp of the remote control shows; the plate shows violet, pink or white, not deep red. */
  readonly seen: boolean
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

/** How likely the results of these tests are with a leak above 0, each for itself. */
export function leakTestLikelihood(tests: readonly LeakTest[], leak: number): number {
  return tests.reduce((product, { test, seen }) => {
    const { leak: from, lnSd } = SEEN_FROM[test]
    const z = Math.log(leak / from) / lnSd
    return product * normalCdf(seen ? z : -z)
  }, 1)
}
