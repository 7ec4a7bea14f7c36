import { minimise, type Residuals } from '../../numerics/least-squares.ts'
import type { Matrix3, Triple } from '../../numerics/matrix3.ts'
import {
  bendAt,
  bendWeights,
  type Response,
  type SweptCurveKind,
} from '../exposure-sweep/response.ts'
import {
  BASIS,
  type BendPrior,
  BLACK_LEVEL,
  bendPriors,
  type PriorTerm,
} from '../exposure-sweep/response-prior.ts'
import type { PairDatum } from './pair-data.ts'

export interface PairRecovery {
  /** Where a fit with another prior begins. */
  readonly parameters: Float64Array
  readonly response: Response
  /** Camera channels to linear light of the file's space, scaled as the response is. */
  readonly matrix: Matrix3
  /** Covariance of the matrix, row by row, 9 x 9. */
  readonly matrixCovariance: readonly (readonly number[])[]
  /** Covariance of the response's coefficients, lower triangle row by row. */
  readonly responseCovariance: readonly number[]
  /** [datum][channel], ln light; null where not used. */
  readonly residuals: readonly (readonly (number | null)[])[]
  /** Root mean square residual in units of the stated uncertainty. */
  readonly misfit: number
  /** -2 ln of the evidence for kind and prior, up to a constant that all of them share. */
  readonly deviance: number
}

/**
 * Entries of the matrix against those that the raw file states, over the length of the row: makers
 * raise colours by a tenth or two, and balance for another light.
 */
const MATRIX_SD = 0.1
/** Light that the camera's correction of the lens gives the corner, ln. */
const SHADING_SD = 0.1
/** A channel of light below this goes over into a tail that stays positive. */
const LEAST_LIGHT = 3e-4

/**
 * Levels near each other err together, by how the pictures lie on each other and by the photo's coding:
 * so many count as one. Simulated shots err by 2.5 times what independent ones would.
 */
export const TOGETHER = 6

const CHANNELS = [0, 1, 2] as const
const SPLINE = BASIS.size
const MATRIX = SPLINE
const SCALE = MATRIX + 9
const BLACK = SCALE + 1
const SHADING = BLACK + 3
const SIZE = SHADING + 1

/**
 * Recovers the tone curve, the gains and the matrix of a camera from a raw picture and a photo of the
 * same shot: the raw light stands for the exposures of a sweep (Debevec & Malik 1997, eq. 3), and the
 * matrix between both is found along with the curve.
 *
 * @param from a recovery with another prior, to begin from
 * @param matrix camera channels to the file's space as the raw file states it; any scale
 */
export function recoverPair(
  data: readonly PairDatum[],
  kind: SweptCurveKind,
  matrix: Matrix3,
  prior: BendPrior,
  from: PairRecovery | null = null,
): PairRecovery {
  const top = (d: PairDatum) => Math.max(...d.nominal.map((v) => v ?? -99))
  const brightest = data.reduce((a, b) => (top(b) > top(a) ? b : a))
  const anchor = top(brightest)
  const lengths = matrix.map((row) => Math.hypot(...row)) as unknown as Triple
  const light = Math.max(...CHANNELS.map((c) => dot(matrix[c], brightest.raw)))
  const start = from ? Float64Array.from(from.parameters) : new Float64Array(SIZE)
  const brightScale = anchor - Math.log(Math.max(light, 1e-6))
  if (!from) start[SCALE] = brightScale
  const terms: PriorTerm[] = [
    ...bendPriors(prior, kind, anchor),
    ...Array.from({ length: 9 }, (_, i) => alone(MATRIX + i, MATRIX_SD)),
    { mean: brightScale, sd: 3, terms: [[SCALE, 1]] },
    ...CHANNELS.map((c) => alone(BLACK + c, BLACK_LEVEL[c])),
    alone(SHADING, SHADING_SD),
  ]
  const rows = terms.map(({ sd, terms: of }) => {
    const row = new Float64Array(SIZE)
    for (const [i, factor] of of) row[i] = factor / sd
    return row
  })
  const known = (p: Float64Array): Residuals => ({
    value: rows.map((row, k) =>
      row.reduce((sum, v, i) => sum + v * p[i]!, -terms[k]!.mean / terms[k]!.sd),
    ),
    jacobian: rows,
  })
  const minimum = minimise(start, (p) => {
    const seen = dataResiduals(p, data, kind, matrix, lengths)
    const stated = known(p)
    return {
      value: [...seen.value, ...stated.value],
      jacobian: [...seen.jacobian, ...stated.jacobian],
    }
  })
  const { parameters: p, covariance } = minimum
  const seen = dataResiduals(p, data, kind, matrix, lengths)
  const squares = seen.value.reduce((sum, v) => sum + v * v, 0)
  const misfit = Math.sqrt(squares / Math.max(seen.value.length - SIZE / 2, 1))
  const inflate = TOGETHER * Math.max(1, misfit * misfit)
  const cell = (i: number, j: number) => inflate * covariance[i]![j]!
  let at = 0
  const scale = Math.exp(p[SCALE]!)
  const entry = (c: 0 | 1 | 2, k: 0 | 1 | 2) =>
    scale * (matrix[c][k] + lengths[c] * p[MATRIX + 3 * c + k]!)
  const row = (c: 0 | 1 | 2): Triple => [entry(c, 0), entry(c, 1), entry(c, 2)]
  const byParameter = (i: number) => scale * lengths[Math.floor(i / 3) as 0 | 1 | 2]
  return {
    parameters: p,
    response: { kind, basis: BASIS, coefficients: Array.from(p.subarray(0, SPLINE)) },
    matrix: [row(0), row(1), row(2)],
    matrixCovariance: Array.from({ length: 9 }, (_, i) =>
      Array.from(
        { length: 9 },
        (_, j) => byParameter(i) * byParameter(j) * cell(MATRIX + i, MATRIX + j),
      ),
    ),
    responseCovariance: Array.from({ length: SPLINE }, (_, i) =>
      Array.from({ length: i + 1 }, (_, j) => cell(i, j)),
    ).flat(),
    residuals: data.map((d) =>
      CHANNELS.map((c) => (d.nominal[c] === null ? null : seen.value[at++]! * d.uncertainty[c])),
    ),
    misfit,
    deviance:
      minimum.cost +
      minimum.logDeterminant +
      2 * terms.reduce((sum, { sd }) => sum + Math.log(sd), 0),
  }
}

const alone = (parameter: number, sd: number): PriorTerm => ({
  mean: 0,
  sd,
  terms: [[parameter, 1]],
})
const dot = (a: Triple, b: Triple) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2]

function dataResiduals(
  p: Float64Array,
  data: readonly PairDatum[],
  kind: SweptCurveKind,
  matrix: Matrix3,
  lengths: Triple,
): Residuals {
  const value: number[] = []
  const jacobian: Float64Array[] = []
  const scale = Math.exp(p[SCALE]!)
  for (const datum of data) {
    const { raw, nominal } = datum
    const brightest = Math.max(...nominal.map((v) => v ?? -99))
    for (const c of CHANNELS) {
      const u = nominal[c]
      if (u === null) continue
      const at = kind === 'channel' ? u : brightest
      const { index, weights } = bendWeights(BASIS, at)
      const { value: bend, slope } = bendAt({ basis: BASIS, coefficients: p }, at)
      let mixed = 0
      for (const k of CHANNELS) {
        mixed += (matrix[c][k] + lengths[c] * p[MATRIX + 3 * c + k]!) * raw[k]
      }
      const { ln, slope: perLight } = lnAbove(scale * mixed + p[BLACK + c]!)
      const steep = kind === 'channel' || at === u ? Math.max(1 + slope, 0.3) : 1
      const w = 1 / (steep * datum.uncertainty[c])
      value.push((u + bend - ln - p[SHADING]! * datum.radiusSquared) * w)
      const row = new Float64Array(SIZE)
      for (let j = 0; j < 4; j++) row[index + j] = weights[j]! * w
      for (const k of CHANNELS) {
        row[MATRIX + 3 * c + k] = -perLight * scale * lengths[c] * raw[k] * w
      }
      row[SCALE] = -perLight * scale * mixed * w
      row[BLACK + c] = -perLight * w
      row[SHADING] = -datum.radiusSquared * w
      jacobian.push(row)
    }
  }
  return { value, jacobian }
}

/** ln of light, straight on below {@link LEAST_LIGHT}, and its derivative. */
function lnAbove(light: number): { ln: number; slope: number } {
  if (light >= LEAST_LIGHT) return { ln: Math.log(light), slope: 1 / light }
  return { ln: Math.log(LEAST_LIGHT) + light / LEAST_LIGHT - 1, slope: 1 / LEAST_LIGHT }
}
