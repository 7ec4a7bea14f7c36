import { xyzFromXy } from '../../colour/chromaticity.ts'
import { encodeTransfer, P3_FROM_XYZ, SRGB_FROM_XYZ, WHITE_D65 } from '../../colour/rgb-spaces.ts'
import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  type Triple,
  transform,
} from '../../numerics/matrix3.ts'
import { averagedKinds } from '../exposure-sweep/averaged-kinds.ts'
import type { CodingSteps } from '../exposure-sweep/frame-levels.ts'
import type { SweptCurveKind } from '../exposure-sweep/response.ts'
import { FREE, STIFF } from '../exposure-sweep/response-prior.ts'
import {
  recoveredCurve,
  type ToneCurve,
  toneCurveUncertainty,
} from '../exposure-sweep/tone-curve.ts'
import type { MeasuredGrey } from '../grey-reference.ts'
import type { RgbSpace } from '../image.ts'
import type { LightMap } from './light-map.ts'
import { balanceOfPair } from './pair-balance.ts'
import { type PairDatum, pairData } from './pair-data.ts'
import { placeMaps } from './place-maps.ts'
import { recoverPair, TOGETHER } from './recover-pair.ts'

/** A photo and the raw picture of the same shot. Plain data, crosses threads. */
export interface RawPair {
  readonly photo: LightMap
  /** Space of the photo's light. */
  readonly space: RgbSpace
  /** Null where the file does not say. */
  readonly steps: CodingSteps | null
  readonly raw: LightMap
  /** As the raw file states them; null where it does not. */
  readonly cameraToXyz: Matrix3 | null
  readonly asShotNeutral: Triple | null
}

export type PairRefusal =
  /** No place was found where the two show the same. */
  | 'other picture'
  /** Too few levels are seen by both without clipping. */
  | 'too little light'
  /** Between the levels that both see the curve is open by more than photos have in common. */
  | 'levels missing'
  | 'does not fit'

export interface PairMeasurement {
  readonly kind: 'measured'
  readonly curve: ToneCurve
  /** Of {@link curve}'s kind; below 0.98 the curve lies between both. */
  readonly kindProbability: number
  /** Camera channels to linear light of the photo's space: white-balance gains and colours in one. */
  readonly matrix: Matrix3
  /** What a grey card in daylight would have said of the photo's balance; null where that is open. */
  readonly balance: MeasuredGrey | null
  /** Levels of red and green that both pictures saw, stops. */
  readonly stops: number
  readonly misfit: number
}

export interface PairRefused {
  readonly kind: 'refused'
  readonly reason: PairRefusal
  /** Numbers for the sentence. */
  readonly values: Readonly<Record<string, number>>
}
export type PairResult = PairMeasurement | PairRefused

const LEAST_CORRELATION = 0.9
/** Stops and levels below which there is no curve to see. */
const LEAST_STOPS = 4
const LEAST_DATA = 12
/** Residuals beyond so many standard deviations are no light of the scene: a spark, a reflection. */
const OUTLYING = 4
const LARGEST_MISFIT = 6
/** Curves in general leave 0.3 open; ln(R/G) from which light is a glow's. */
const LARGEST_OPEN = 0.15
const GLOWING = 0.7
/** A kind as probable as this is taken as the true one, as for sweeps: see `choose-kind`. */
const DECIDED = 0.98

/**
 * The tone curve of an ordinary photo, its white-balance gains and its matrix, from the raw picture of
 * the same shot: no sweep is needed.
 */
export function measurePair(pair: RawPair): PairResult {
  const matrix = statedMatrix(pair)
  const placed = placeMaps(pair.photo, pair.raw, matrix[0])
  if (!placed || placed.place.correlation < LEAST_CORRELATION) {
    return refused('other picture', { correlation: placed?.place.correlation ?? 0 })
  }
  const all = pairData(pair.photo, placed.raw, placed.place, pair.steps ?? undefined)
  const stops = stopsOf(all)
  if (all.length < LEAST_DATA || !(stops >= LEAST_STOPS)) {
    return refused('too little light', { stops: Math.max(stops, 0), leastStops: LEAST_STOPS })
  }
  const first = chosen(all, matrix)
  const clean = all.filter((_, i) =>
    first.better.residuals[i]!.every(
      (r, c) =>
        Math.abs(r ?? 0) < OUTLYING * Math.max(first.better.misfit, 1) * all[i]!.uncertainty[c]!,
    ),
  )
  const { better, channel, ofChannel, probability } =
    clean.length < all.length ? chosen(clean, matrix) : first
  if (better.misfit > LARGEST_MISFIT) return refused('does not fit', { misfit: better.misfit })
  const decided = probability >= DECIDED
  const curve = recoveredCurve(
    decided ? better : averagedKinds(channel, ofChannel),
    clean,
    pair.space,
  )
  const open = leftOpen(curve, clean)
  if (open > LARGEST_OPEN) return refused('levels missing', { open, stops })
  return {
    kind: 'measured',
    curve,
    kindProbability: decided ? probability : ofChannel,
    matrix: better.matrix,
    balance: balanceOfPair(better, pair.cameraToXyz, pair.space),
    stops,
    misfit: better.misfit,
  }
}

const refused = (reason: PairRefusal, values: PairRefused['values']): PairRefused => ({
  kind: 'refused',
  reason,
  values,
})

/** From the highest red or green to the lowest. */
function stopsOf(data: readonly PairDatum[]): number {
  const seen = data.flatMap(({ nominal: [r, g] }) => [r, g].filter((v) => v !== null))
  return (Math.max(...seen) - Math.min(...seen)) / Math.LN2
}

/** Camera channels to the photo's space as the raw file itself states; white stays white. */
function statedMatrix({ cameraToXyz, asShotNeutral, space }: RawPair): Matrix3 {
  if (cameraToXyz === null) {
    const [r, g, b] = asShotNeutral ?? [1, 1, 1]
    return diagonal([1 / r, 1 / g, 1 / b])
  }
  const white = asShotNeutral ?? transform(invert(cameraToXyz), xyzFromXy(WHITE_D65))
  const fromXyz = space === 'srgb' ? SRGB_FROM_XYZ : P3_FROM_XYZ
  const balanced = multiply(fromXyz, multiply(cameraToXyz, diagonal(white)))
  const rows = balanced.map((row) => {
    const sum = row[0] + row[1] + row[2]
    return [row[0] / sum, row[1] / sum, row[2] / sum]
  }) as unknown as Matrix3
  return multiply(rows, diagonal([1 / white[0], 1 / white[1], 1 / white[2]]))
}

function chosen(data: readonly PairDatum[], matrix: Matrix3) {
  const fits = (kind: SweptCurveKind) => {
    const first = recoverPair(data, kind, matrix, FREE[0])
    const free = [first, recoverPair(data, kind, matrix, FREE[1], first)]
    const stiff = STIFF.map((prior) => recoverPair(data, kind, matrix, prior, first))
    return {
      best: free.reduce((a, b) => (b.deviance < a.deviance ? b : a)),
      deviances: [...free, ...stiff].map(({ deviance }) => deviance),
    }
  }
  const [channel, ratio] = [fits('channel'), fits('ratio')]
  const scale = TOGETHER * Math.max(1, Math.min(channel.best.misfit, ratio.best.misfit)) ** 2
  const least = Math.min(...channel.deviances, ...ratio.deviances)
  const evidence = ({ deviances }: typeof channel) =>
    deviances.reduce((sum, deviance) => sum + Math.exp((least - deviance) / (2 * scale)), 0)
  const ofChannel = evidence(channel) / (evidence(channel) + evidence(ratio))
  return {
    channel: channel.best,
    ofChannel,
    better: ofChannel >= 0.5 ? channel.best : ratio.best,
    probability: Math.max(ofChannel, 1 - ofChannel),
  }
}

/** Standard uncertainty of ln(G/R) of the brightest glow that was seen in both channels. */
function leftOpen(curve: ToneCurve, data: readonly PairDatum[]): number {
  let [brightest, found] = [Number.NEGATIVE_INFINITY, 0]
  for (const { nominal } of data) {
    const [r, g, b] = nominal
    if (r === null || g === null || g > r - GLOWING || r <= brightest) continue
    brightest = r
    const codes = [r, g, b ?? g].map((ln) => encodeTransfer(Math.exp(ln))) as unknown as Triple
    found = toneCurveUncertainty(curve, codes).green
  }
  return found
}
