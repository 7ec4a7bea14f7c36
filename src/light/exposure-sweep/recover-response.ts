import { type Minimum, minimise, type Residuals } from '../../numerics/least-squares.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import { bendAt, bendWeights, type Response, type SweptCurveKind } from './response.ts'
import { BASIS, type BendPrior, BLACK_LEVEL, bendPriors } from './response-prior.ts'

/** What one frame says about the region. */
export interface FrameLevels {
  /** ln of the relative exposure. */
  readonly lnExposure: number
  /** Standard uncertainty of that where it is not to be relied on; absent: the prior's. */
  readonly lnExposureUncertainty?: number
  /** ln of what the camera's balance did to R, G, B besides; zeros where it stood still. */
  readonly lnGain: Triple
  /** Place in time, 0 for the first frame, 1 for the last. */
  readonly time: number
  /**
   * ln of the region's mean light in each channel of the file, decoded with the nominal transfer
   * function; null where the channel is at its floor too often to say.
   */
  readonly nominal: readonly [number | null, number | null, number | null]
  /** Standard uncertainty of each. */
  readonly uncertainty: Triple
}

export interface Recovery {
  readonly response: Response
  /** ln of the light of R, G, B at relative exposure 1 at the time of the first frame. */
  readonly lnLight: Triple
  readonly covariance: readonly [Triple, Triple, Triple]
  /** Covariance of the response's coefficients, lower triangle row by row. */
  readonly responseCovariance: readonly number[]
  /** Covariance of each of the response's coefficients with ln(G/R). */
  readonly responseWithGreen: readonly number[]
  readonly black: Triple
  /** Change of {@link lnLight} from the first to the last frame. */
  readonly drift: Triple
  readonly driftUncertainty: Triple
  /** ln(true / stated exposure) of each frame. */
  readonly exposureErrors: readonly number[]
  /** Variance of each, prior and frames together. */
  readonly exposureVariances: readonly number[]
  /** Residual of each datum in ln light, [frame][channel]; null where not used. */
  readonly residuals: readonly (readonly (number | null)[])[]
  /** Root mean square residual in units of the stated uncertainty. */
  readonly misfit: number
  /** -2 ln of the evidence for kind and prior, up to a constant that all of them share. */
  readonly deviance: number
}

/** What is taken for granted about camera and photos before a fit: standard deviations. */
export interface ResponsePrior extends BendPrior {
  /** Exposures as stated against true, ln. */
  readonly exposure: number
}

/** Where the glow was not seen again at the end: trust that it was steady, ln of its light. */
const UNSEEN_DRIFT = 0.02
const SEEN_DRIFT = 0.5
/** Drift of ln G and ln B against ln R: colder is redder. */
const COLOUR_DRIFT = 0.15

const CHANNELS = [0, 1, 2] as const
const SPLINE = BASIS.size
const LIGHT = SPLINE
const BLACK = LIGHT + 3
const DRIFT = BLACK + 3
const ERRORS = DRIFT + 3

/**
 * Recovers the response of the camera from frames of one glow at known exposure ratios, and with it
 * the linear light of the three channels.
 *
 * After Debevec & Malik 1997 (eq. 3): ln light as a smooth function of the code, one for all channels, found
 * together with the light. Different from theirs: the function is counted from the nominal transfer
 * function, so that smoothness means a smooth tone curve; black level, drift and exposure errors are
 * unknowns with priors instead of being assumed away; codes are means over a region and weigh by
 * their uncertainty.
 *
 * @param frames at least 3, none with a clipped channel
 * @param driftSeen the first exposure was repeated at the end
 */
export function recoverResponse(
  frames: readonly FrameLevels[],
  kind: SweptCurveKind,
  driftSeen: boolean,
  prior: ResponsePrior,
): Recovery {
  const size = ERRORS + frames.length
  const start = new Float64Array(size)
  const brightest = frames.reduce((a, b) => ((b.nominal[0] ?? -99) > (a.nominal[0] ?? -99) ? b : a))
  for (const c of CHANNELS) {
    start[LIGHT + c] = (brightest.nominal[c] ?? -6) - brightest.lnExposure - brightest.lnGain[c]
  }
  const anchor = brightest.nominal[0] ?? 0
  const priors = priorResiduals(size, frames, kind, anchor, driftSeen, prior)
  const problem = (p: Float64Array): Residuals => {
    const data = dataResiduals(p, frames, kind, 1)
    const known = priors.residuals(p)
    return {
      value: [...data.value, ...known.value],
      jacobian: [...data.jacobian, ...known.jacobian],
    }
  }
  const minimum = minimise(start, problem)
  return recoveryOf(minimum, frames, kind, priors.lnVolume)
}

function dataResiduals(
  p: Float64Array,
  frames: readonly FrameLevels[],
  kind: SweptCurveKind,
  scale: number,
): Residuals {
  const value: number[] = []
  const jacobian: Float64Array[] = []
  frames.forEach((frame, k) => {
    for (const c of CHANNELS) {
      const u = frame.nominal[c]
      if (u === null) continue
      const at = kind === 'channel' ? u : Math.max(...frame.nominal.map((v) => v ?? -99))
      const { index, weights } = bendWeights(BASIS, at)
      const { value: bend, slope } = bendAt({ basis: BASIS, coefficients: p }, at)
      const light = Math.exp(
        p[LIGHT + c]! +
          frame.lnExposure +
          frame.lnGain[c] +
          frame.time * driftOf(p, c) +
          p[ERRORS + k]!,
      )
      const { share, slope: blackSlope } = aboveBlack(p[BLACK + c]! / light)
      const total = light * share
      const steep = kind === 'channel' || at === u ? Math.max(1 + slope, 0.3) : 1
      const w = 1 / (scale * steep * frame.uncertainty[c])
      value.push((u + bend - Math.log(total)) * w)
      const row = new Float64Array(p.length)
      for (let j = 0; j < 4; j++) row[index + j] = weights[j]! * w
      const black = p[BLACK + c]! / light
      const byLight = (-1 + (blackSlope / share) * black) * w
      row[LIGHT + c] = byLight
      row[BLACK + c] = (-blackSlope / share / light) * w
      row[DRIFT] = byLight * frame.time
      if (c > 0) row[DRIFT + c] = byLight * frame.time
      row[ERRORS + k] = byLight
      jacobian.push(row)
    }
  })
  return { value, jacobian }
}

/**
 * Light with its black level, over the light, for a black level over light of r: 1 + r, and below
 * -1/2 a tail that stays positive, for the logarithm and for the search to find its way back.
 */
function aboveBlack(r: number): { share: number; slope: number } {
  if (r >= -0.5) return { share: 1 + r, slope: 1 }
  const share = 0.5 * Math.exp(2 * (r + 0.5))
  return { share, slope: 2 * share }
}

/** Drift of ln R is a parameter; those of G and B are counted from it. */
const driftOf = (p: Float64Array, c: number) => p[DRIFT]! + (c > 0 ? p[DRIFT + c]! : 0)

function priorResiduals(
  size: number,
  frames: readonly FrameLevels[],
  kind: SweptCurveKind,
  anchor: number,
  driftSeen: boolean,
  prior: ResponsePrior,
): { residuals: (p: Float64Array) => Residuals; lnVolume: number } {
  const rows: Float64Array[] = []
  const means: number[] = []
  let lnVolume = 0
  const addAbout = (mean: number, sd: number, ...terms: (readonly [number, number])[]) => {
    const row = new Float64Array(size)
    for (const [i, factor] of terms) row[i] = factor / sd
    rows.push(row)
    means.push(mean / sd)
    lnVolume += Math.log(sd)
  }
  const add = (sd: number, ...terms: (readonly [number, number])[]) => addAbout(0, sd, ...terms)
  for (const { mean, sd, terms } of bendPriors(prior, kind, anchor)) addAbout(mean, sd, ...terms)
  for (const c of CHANNELS) {
    add(BLACK_LEVEL[c], [BLACK + c, 1])
    // Light has no prior worth the name; this keeps a channel without data finite.
    add(20, [LIGHT + c, 1])
  }
  add(driftSeen ? SEEN_DRIFT : UNSEEN_DRIFT, [DRIFT, 1])
  add(driftSeen ? COLOUR_DRIFT : UNSEEN_DRIFT / 4, [DRIFT + 1, 1])
  add(driftSeen ? COLOUR_DRIFT : UNSEEN_DRIFT / 4, [DRIFT + 2, 1])
  frames.forEach(({ lnExposureUncertainty = 0 }, k) => {
    add(Math.hypot(prior.exposure, lnExposureUncertainty), [ERRORS + k, 1])
  })
  return {
    residuals: (p) => ({
      value: rows.map((row, k) => row.reduce((sum, v, i) => sum + v * p[i]!, -means[k]!)),
      jacobian: rows,
    }),
    lnVolume,
  }
}

function recoveryOf(
  minimum: Minimum,
  frames: readonly FrameLevels[],
  kind: SweptCurveKind,
  lnPriorVolume: number,
): Recovery {
  const { parameters: p, covariance: cov } = minimum
  const data = dataResiduals(p, frames, kind, 1)
  const squares = data.value.reduce((sum, v) => sum + v * v, 0)
  // Data less what the parameters take up: N - trace(J cov J^T).
  const taken = data.jacobian.reduce((sum, row) => {
    let quadratic = 0
    for (let i = 0; i < row.length; i++) {
      if (row[i] === 0) continue
      for (let j = 0; j < row.length; j++) quadratic += row[i]! * cov[i]![j]! * row[j]!
    }
    return sum + quadratic
  }, 0)
  const misfit = Math.sqrt(squares / Math.max(data.value.length - taken, 1))
  const inflate = Math.max(1, misfit * misfit)
  const cell = (i: number, j: number) => inflate * cov[i]![j]!
  const row = (i: number): Triple => [cell(i, LIGHT), cell(i, LIGHT + 1), cell(i, LIGHT + 2)]
  let at = 0
  const residuals = frames.map((frame) =>
    CHANNELS.map((c) =>
      frame.nominal[c] === null ? null : data.value[at++]! * frame.uncertainty[c],
    ),
  )
  const driftSd = (c: number) => {
    if (c === 0) return Math.sqrt(cell(DRIFT, DRIFT))
    return Math.sqrt(cell(DRIFT, DRIFT) + 2 * cell(DRIFT, DRIFT + c) + cell(DRIFT + c, DRIFT + c))
  }
  return {
    response: { kind, basis: BASIS, coefficients: Array.from(p.subarray(0, SPLINE)) },
    lnLight: [p[LIGHT]!, p[LIGHT + 1]!, p[LIGHT + 2]!],
    covariance: [row(LIGHT), row(LIGHT + 1), row(LIGHT + 2)],
    responseCovariance: Array.from({ length: SPLINE }, (_, i) =>
      Array.from({ length: i + 1 }, (_, j) => cell(i, j)),
    ).flat(),
    responseWithGreen: Array.from(
      { length: SPLINE },
      (_, i) => cell(i, LIGHT + 1) - cell(i, LIGHT),
    ),
    black: [p[BLACK]!, p[BLACK + 1]!, p[BLACK + 2]!],
    drift: [driftOf(p, 0), driftOf(p, 1), driftOf(p, 2)],
    driftUncertainty: [driftSd(0), driftSd(1), driftSd(2)],
    exposureErrors: Array.from(p.subarray(ERRORS)),
    exposureVariances: frames.map((_, k) => cov[ERRORS + k]![ERRORS + k]!),
    residuals,
    misfit,
    deviance: minimum.cost + minimum.logDeterminant + 2 * lnPriorVolume,
  }
}
