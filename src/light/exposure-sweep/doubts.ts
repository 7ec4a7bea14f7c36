/** Reasons against a recovered response. */
import type { Choice } from './choose-kind.ts'
import type { PlaceDependence } from './local-tone.ts'
import { bendAt, type Response } from './response.ts'
import type { SweepRefusal } from './sweep-result.ts'
import { type UsableFrames, wrongSlope } from './usable-frames.ts'

/** Change of ln R from first to last frame beyond which a straight line does not describe it. */
const LARGEST_DRIFT = 0.8
/** Error of a stated exposure, as far as the prior lets it show, that is no rounding any more, ln. */
const EXPOSURE_LIE = 0.055
/**
 * Place dependence, ln light: of an even glow, and more for an uneven one (levels between those of
 * the frames lie on the curve's joints); its ratio to chance, F(3, 21), is above 10 once in 4000;
 * and all of it against what noise and coding make.
 */
const LOCAL_TONE = 0.015
const LOCAL_TONE_UNEVEN = 0.2
const LOCAL_TONE_RATIO = 10
const LOCAL_TONE_NOISE = 1.6
/** Overall contrast of a tone curve; beyond it the stated exposures are wrong. */
const CONTRAST = [0.3, 4] as const
/** Nominal ln light where contrast is looked at. */
const MID_SCALE = -3.5
const LARGEST_MISFIT = 4
/**
 * An undecided kind that leaves more of ln(G/R) open than this, 27 K at 1173 K, gives no figure: with
 * 0.15 one sweep in 200 more was read, and the rms of all went from 9.6 to 15.7 K.
 */
const LARGEST_KIND_SPREAD = 0.08

export interface Doubt {
  readonly reason: SweepRefusal
  readonly values: Readonly<Record<string, number>>
}

export const contrastOf = (response: Response): number =>
  1 / (1 + bendAt(response, MID_SCALE).slope)

/** Stated exposures that do not go with what the frames show; one left open does not count. */
function exposuresDisagree(
  { better, odd }: Choice,
  { data, used }: Pick<UsableFrames, 'data' | 'used'>,
): Doubt | null {
  const disagree = (values: Doubt['values']) => ({ reason: 'exposures disagree', values }) as const
  const relied = (_: unknown, k: number) => k !== odd
  const slope = wrongSlope(data.filter(relied), used.filter(relied))
  if (slope) return disagree(slope)
  const worst = better.exposureErrors
    .map((lnError, k) => ({ lnError, frame: used[k]! }))
    .filter(relied)
    .reduce((a, b) => (Math.abs(b.lnError) > Math.abs(a.lnError) ? b : a))
  if (Math.abs(worst.lnError) > EXPOSURE_LIE) return disagree({ ...worst })
  const contrast = contrastOf(better.response)
  return contrast > CONTRAST[0] && contrast < CONTRAST[1] ? null : disagree({ contrast })
}

/** The most serious reason. */
export function doubtful(
  choice: Choice,
  usable: UsableFrames,
  byPlace: () => PlaceDependence,
): Doubt | null {
  const { better } = choice
  const { used, codes, repeated } = usable
  const disagree = exposuresDisagree(choice, usable)
  if (disagree) return disagree
  if (repeated && Math.abs(better.drift[0]) > LARGEST_DRIFT) {
    return { reason: 'glow changed', values: { lnRed: better.drift[0] } }
  }
  if (better.misfit > LARGEST_MISFIT) {
    return { reason: 'does not fit', values: { misfit: better.misfit } }
  }
  const place = byPlace()
  const allowed = LOCAL_TONE + LOCAL_TONE_UNEVEN * place.unevenLn
  if (
    place.shapeLn > allowed &&
    place.varianceRatio > LOCAL_TONE_RATIO &&
    place.totalLn > LOCAL_TONE_NOISE * place.expectedLn
  ) {
    return { reason: 'local tone mapping', values: { ...place } }
  }
  if (choice.kindSpread > LARGEST_KIND_SPREAD) {
    return {
      reason: 'curve kind undecided',
      values: {
        probability: choice.probability,
        channel: choice.byKind.channel,
        ratio: choice.byKind.ratio,
        brightestCode: Math.max(...used.map((k) => codes[k]!.code[0])),
      },
    }
  }
  return null
}
