import { diagonal } from '../../numerics/matrix3.ts'
import { subtract } from '../background-ring.ts'
import { byWeight } from '../finding.ts'
import type { Region } from '../image.ts'
import { shifted } from './align.ts'
import { averagedKinds } from './averaged-kinds.ts'
import { balanceMoved } from './balance-watch.ts'
import { cardGains } from './card-gains.ts'
import { APART, chooseKind } from './choose-kind.ts'
import { contrastOf, doubtful } from './doubts.ts'
import { equalCodeRatio } from './equal-code.ts'
import { type CodingSteps, UNKNOWN_STEPS } from './frame-levels.ts'
import { placeDependence } from './local-tone.ts'
import { placeFrames } from './place-frames.ts'
import type { Response } from './response.ts'
import { backgroundLight, inP3, lightOf, ratioSd } from './sweep-light.ts'
import {
  type FrameReport,
  LEAST_FRAMES,
  type SweepDepth,
  type SweepFinding,
  type SweepFrame,
  type SweepRefusal,
  type SweepRefused,
  type SweepResult,
} from './sweep-result.ts'
import { recoveredCurve, sweptGreenErrors } from './tone-curve.ts'
import {
  extremes,
  sweepDepth,
  type UsableFrames,
  usableFrames,
  wrongSlope,
} from './usable-frames.ts'

export interface SweepOptions {
  /** DC steps of the files' quantisation tables; without them those of quality 80. */
  readonly steps?: CodingSteps
  /** The frame that the grey card's balance is measured in, where frames show the card; else the first. */
  readonly base?: number
  /** Odds of a curve on each channel by other sweeps of this camera; absent: even. */
  readonly channelOdds?: number
}

/** Range of exposures below which there is nothing to compare, ln: 1.5 stops. */
const LEAST_RANGE = 1.5 * Math.LN2
/** Contrast met in cameras' pictures; linear codes have 2.2, and so do exposures stated as half. */
const USUAL_CONTRAST = [0.65, 1.75] as const
const BACKGROUND_SHARE = 0.03
/** Displacement worth mentioning, pixels. */
const MOVED = 0.5

/**
 * Linear colour of a glow, and the camera's tone curve, from several photos of it at known exposure
 * ratios.
 *
 * Frames are aligned by their structure around the region; frames with a clipped channel are left
 * out (through the camera's colour matrix a clipped red bends green). The response is recovered for
 * both kinds of tone curve; their probabilities follow from how well they fit. Results of a kind
 * that is not certain are averaged with the spread between them; where that is too wide the sweep
 * is refused: the shoulder tells the kinds apart, so the brightest frame must come close to clipping.
 */
export function measureSweep(
  frames: readonly SweepFrame[],
  region: Region,
  { steps = UNKNOWN_STEPS, base = 0, channelOdds = 1 }: SweepOptions = {},
): SweepResult {
  const unfit = unfitFrames(frames)
  if (unfit) return unfit
  const placed = placeFrames(frames, region)
  if (placed.kind === 'moved') return refused('scene moved', placed.values)
  const places = placed.shifts.map((s) => ({ region: shifted(region, s), dx: s.dx, dy: s.dy }))
  const cards = frames.flatMap(({ card }) => card ?? [])
  const follows = cards.length === frames.length
  const usableBy = (response: Response | null) =>
    usableFrames(frames, places, steps, follows ? cardGains(cards, base, steps, response) : null)
  let usable = usableBy(null)
  const useless = uselessCodes(usable)
  if (useless) return useless
  const choose = () => chooseKind(usable.data, usable.repeated, frames[0]!.image.space, channelOdds)
  let choice = choose()
  if (follows) {
    // The card once more, by the curve that was found; a third time changes nothing.
    usable = usableBy(choice.better.response)
    choice = choose()
  }
  const { data, used, codes, repeated } = usable
  const { better, odd } = choice
  const depth = sweepDepth(data)
  const reports = usable.reports.map((report, k): FrameReport => {
    const i = used.indexOf(k)
    return i < 0
      ? report
      : { ...report, residuals: better.residuals[i]!, exposureError: better.exposureErrors[i]! }
  })
  const doubt = doubtful(choice, usable, () =>
    placeDependence(
      used.map((k) => ({ image: frames[k]!.image, region: places[k]!.region })),
      better.response,
      Math.max(...data.map((d) => d.nominal[0]!)),
      steps,
    ),
  )
  if (doubt) return refused(doubt.reason, doubt.values, reports, depth)

  const { brightest, darkest } = extremes(data)
  const blueSeen = data.some((d) => d.nominal[2] !== null)
  const space = frames[0]!.image.space
  const between = choice.kindSpread > APART
  const curve = recoveredCurve(
    between ? averagedKinds(choice.channel, choice.ofChannel) : better,
    data,
    space,
  )
  const own = lightOf(choice, data[brightest]!.lnExposure, codes[used[brightest]!]!, blueSeen)
  const whole = inP3(own, space)
  const [bright, dark] = [brightest, darkest].map((i) => {
    const k = used[i]!
    return { ...frames[k]!, region: places[k]!.region }
  })
  const background = backgroundLight(curve, bright!, dark!, whole.mean)
  // The recovery's covariance is what the tone curve leaves open; the glow's own is its background.
  const exact = { mean: whole.mean, covariance: diagonal([0, 0, 0]) }
  const glow = background ? subtract(exact, background) : exact
  const curveAlone = { mean: glow.mean, covariance: whole.covariance }

  const movedBalance = follows ? 0 : balanceMoved(frames, places, steps, choice.better.response)
  const findings: SweepFinding[] = []
  const note = (
    code: SweepFinding['code'],
    weight: SweepFinding['weight'],
    values: SweepFinding['values'] = {},
  ) => findings.push({ code, weight, values })
  const moved = Math.max(...places.map((s) => Math.hypot(s.dx, s.dy)))
  if (moved > MOVED) note('frames aligned', 'note', { pixels: moved })
  if (!repeated) note('not repeated', 'warning')
  else if (Math.abs(better.drift[0]) > 2 * better.driftUncertainty[0]) {
    note('drift corrected', Math.abs(better.drift[0]) > 0.1 ? 'warning' : 'note', {
      lnRed: better.drift[0],
      lnGreenOverRed: better.drift[1] - better.drift[0],
    })
  }
  if (odd !== null) {
    note('exposure left open', 'warning', {
      frame: used[odd]!,
      lnError: better.exposureErrors[odd]!,
    })
  }
  if (choice.kindSpread > APART / 4) {
    note('both kinds averaged', between ? 'warning' : 'note', { probability: choice.probability })
  }
  if (depth.givenStops < depth.neededStops - 1) note('sweep short', 'warning', { ...depth })
  const contrast = contrastOf(curve.response)
  if (contrast < USUAL_CONTRAST[0] || contrast > USUAL_CONTRAST[1]) {
    note('unusual contrast', 'warning', { contrast })
  }
  if (!blueSeen) note('blue not seen', 'note')
  if (movedBalance > 0) note('balance moved', 'warning', { lnGreenOverRed: movedBalance })
  if (follows) {
    const gains = data.map(({ lnGain }) => lnGain[1] - lnGain[0])
    note('balance followed', 'note', {
      lnGreenOverRed: Math.max(...gains) - Math.min(...gains),
      left: usable.reports.filter(({ status }) => status === 'card not seen').length,
    })
  }
  if (background) {
    const share = ([0, 1] as const).map((c) => background.mean[c] / glow.mean[c])
    if (Math.max(...share) > BACKGROUND_SHARE) {
      note('background', 'warning', { redShare: share[0]!, greenShare: share[1]! })
    }
  }
  return {
    kind: 'measured',
    glow,
    // Seen in the brightest photos alone: the darker ones may have moved as much again, blue twice.
    standardUncertaintyGreen: Math.hypot(ratioSd(curveAlone, 1), 2 * movedBalance),
    standardUncertaintyBlue: Math.hypot(ratioSd(curveAlone, 2), 4 * movedBalance),
    // Of a curve between both kinds the glow's share is not followed: its error counts as its own.
    greenErrors: between ? [] : sweptGreenErrors(curve, better.responseWithGreen, own.mean),
    curve,
    kindProbability: between ? choice.ofChannel : choice.probability,
    channelOdds: oddsOf(choice.ofChannel) / channelOdds,
    byKind: choice.byKind,
    byEqualCodes: equalCodeRatio(data, 1),
    frames: reports,
    depth,
    drift: better.drift,
    findings: byWeight(findings),
  }
}

function refused(
  reason: SweepRefusal,
  values: Record<string, number>,
  frames: readonly FrameReport[] = [],
  depth: SweepDepth | null = null,
): SweepRefused {
  return { kind: 'refused', reason, values, frames, depth }
}

/** Frames that cannot be compared at all. */
function unfitFrames(frames: readonly SweepFrame[]): SweepRefused | null {
  const first = frames[0]
  if (!first || frames.length < LEAST_FRAMES) {
    return refused('too few frames', { frames: frames.length, leastFrames: LEAST_FRAMES })
  }
  const { width, height, space } = first.image
  if (
    frames.some(({ image: i }) => i.width !== width || i.height !== height || i.space !== space)
  ) {
    return refused('frames differ in size', {})
  }
  const lnExposure = frames.map((f) => Math.log(f.relativeExposure))
  const range = Math.max(...lnExposure) - Math.min(...lnExposure)
  return range >= LEAST_RANGE
    ? null
    : refused('exposures do not differ', { stops: range / Math.LN2 })
}

/** Codes from which no response can be recovered. */
function uselessCodes({ data, used, exposures, reports }: UsableFrames): SweepRefused | null {
  if (exposures < LEAST_FRAMES) {
    const count = (status: FrameReport['status']) =>
      reports.filter((r) => r.status === status).length
    const clipped = count('clipped')
    const unseen = count('card not seen')
    return refused(
      clipped > reports.length / 2 ? 'clipped' : unseen > 0 ? 'card not seen' : 'dark',
      { usable: exposures, leastFrames: LEAST_FRAMES, clipped },
      reports,
    )
  }
  const depth = sweepDepth(data)
  const greens = data.flatMap((d) => (d.nominal[1] === null ? [] : [d.nominal[1]]))
  const lowestRed = data[extremes(data).darkest]!.nominal[0]!
  if (greens.length >= 2 && Math.max(...greens) >= lowestRed) return null
  const lie = wrongSlope(data, used)
  return lie
    ? refused('exposures disagree', lie, reports, depth)
    : refused('no shared codes', { ...depth }, reports, depth)
}

/** What sweeps cannot know: cameras that act in neither way. */
const SUREST = 0.999
const oddsOf = (probability: number) => {
  const kept = Math.min(Math.max(probability, 1 - SUREST), SUREST)
  return kept / (1 - kept)
}
