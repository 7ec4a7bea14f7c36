import { describe, expect, test } from 'vitest'
import {
  type FrameLevels,
  type ResponsePrior,
  recoverResponse,
} from '../../../src/light/exposure-sweep/recover-response.ts'
import { bendAt, type SweptCurveKind } from '../../../src/light/exposure-sweep/response.ts'
import { type BendPrior, FREE, STIFF } from '../../../src/light/exposure-sweep/response-prior.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { normal } from '../pictures.ts'

/** ln light of a glow at exposure 1. */
const GLOW: Triple = [-0.6, -2.3, -3.2]
/** ln light is the nominal one times this: a contrast of 1.16. */
const POWER = 0.86
const UNCERTAINTY = 0.004
const STOPS = [0, -1, -2, -3, -4, -5, -6, 0]

interface Sweep {
  readonly kind?: SweptCurveKind
  readonly power?: number
  readonly black?: Triple
  /** Change of ln light from the first frame to the last. */
  readonly drift?: Triple
  /** ln of true over stated exposure, frame by frame. */
  readonly errors?: readonly number[]
  readonly gains?: (k: number) => Triple
  readonly noise?: number
  readonly seed?: number
}

/** Frames without pictures: what their codes would say. */
function framesOf({
  kind = 'channel',
  power = POWER,
  black = [0, 0, 0],
  drift = [0, 0, 0],
  errors = [],
  gains = () => [0, 0, 0],
  noise = 0,
  seed = 51,
}: Sweep = {}): FrameLevels[] {
  const draw = normal(seed)
  return STOPS.map((stop, k) => {
    const time = k / (STOPS.length - 1)
    const lnExposure = stop * Math.LN2
    const lnGain = gains(k)
    const ln = ([0, 1, 2] as const).map((c) => {
      const light = GLOW[c] + lnExposure + lnGain[c] + (errors[k] ?? 0) + time * drift[c]
      return Math.log(Math.exp(light) + black[c])
    })
    const top = Math.max(...ln)
    const nominal = ln.map(
      (v) =>
        (kind === 'channel' ? v / power : v + top / power - top) + noise * UNCERTAINTY * draw(),
    ) as unknown as Triple
    return {
      lnExposure,
      lnGain,
      time,
      nominal,
      uncertainty: [UNCERTAINTY, UNCERTAINTY, UNCERTAINTY],
    }
  })
}
const PRIOR: ResponsePrior = { ...FREE[0], exposure: 0.002 }
const recovered = (sweep: Sweep = {}, { prior = PRIOR } = {}) =>
  recoverResponse(framesOf(sweep), sweep.kind ?? 'channel', true, prior)
/** Without the first exposure again at the end. */
const unseen = (sweep: Sweep = {}) =>
  recoverResponse(framesOf(sweep).slice(0, -1), 'channel', false, PRIOR)
const green = ({ lnLight }: { lnLight: Triple }) => lnLight[1] - lnLight[0]
const blue = ({ lnLight }: { lnLight: Triple }) => lnLight[2] - lnLight[0]
const bendOver = ({ response }: ReturnType<typeof recovered>, from: number, to: number) =>
  bendAt(response, to).value - bendAt(response, from).value
/** Standard uncertainty of ln(G/R). */
const sdOf = ({ covariance: v }: ReturnType<typeof recovered>) =>
  Math.sqrt(v[0][0] + v[1][1] - 2 * v[0][1])

describe('light and tone curve of a sweep', () => {
  test.each(['channel', 'ratio'] as const)('are found together: %s', (kind) => {
    const found = recovered({ kind })
    expect(green(found)).toBeCloseTo(GLOW[1] - GLOW[0], 2)
    expect(blue(found)).toBeCloseTo(GLOW[2] - GLOW[0], 2)
    expect(bendOver(found, -4, -1)).toBeCloseTo((POWER - 1) * 3, 2)
    expect(found.misfit).toBeLessThan(0.2)
    expect(found.response.kind).toBe(kind)
  })

  test('take the bend as none at the brightest red: light counts from there', () => {
    const brightest = framesOf()[0]!.nominal[0]!
    expect(bendAt(recovered().response, brightest).value).toBeCloseTo(0, 3)
    expect(recovered().lnLight[0]).toBeCloseTo(brightest, 1)
  })

  test('do not mind the order of the frames, nor one without blue', () => {
    const without = (kind: SweptCurveKind) =>
      framesOf({ kind }).map((frame, k) =>
        k === 6
          ? { ...frame, nominal: [frame.nominal[0], frame.nominal[1], null] as const }
          : frame,
      )
    for (const kind of ['channel', 'ratio'] as const)
      for (const list of [without(kind), without(kind).toReversed()]) {
        const found = recoverResponse(list, kind, true, PRIOR)
        expect(green(found)).toBeCloseTo(GLOW[1] - GLOW[0], 2)
        expect(blue(found)).toBeCloseTo(GLOW[2] - GLOW[0], 2)
        expect(found.misfit).toBeLessThan(0.2)
      }
    const frames = without('channel')
    const { residuals } = recoverResponse(frames, 'channel', true, PRIOR)
    expect(residuals[6]!.map((v) => v === null)).toEqual([false, false, true])
    expect(residuals).toHaveLength(STOPS.length)
  })

  test('count a black level in each channel', () => {
    const { black, ...found } = recovered({ black: [0.0012, 0.0008, -0.0004] })
    expect(green(found)).toBeCloseTo(GLOW[1] - GLOW[0], 1)
    // 0.0008 in green are a tenth of its light at the fifth frame.
    expect(Math.abs(green(found) - (GLOW[1] - GLOW[0]))).toBeLessThan(0.03)
    for (const [c, level] of [0.0012, 0.0008, -0.0004].entries())
      expect(Math.abs(black[c]! - level)).toBeLessThan(0.0004)
  })

  test('count what a card says of the balance of each frame', () => {
    const found = recovered({ gains: (k) => [0.05 * k, 0, -0.08 * k] })
    expect(green(found)).toBeCloseTo(GLOW[1] - GLOW[0], 2)
    expect(blue(found)).toBeCloseTo(GLOW[2] - GLOW[0], 2)
    expect(found.misfit).toBeLessThan(0.2)
  })
})

describe('a glow that changes while it is swept', () => {
  const DRIFT: Triple = [-0.2, -0.26, -0.3]

  test('is told with its drift, channel by channel, where the first exposure comes again', () => {
    const found = recovered({ drift: DRIFT })
    expect(green(found)).toBeCloseTo(GLOW[1] - GLOW[0], 2)
    for (const c of [0, 1, 2] as const) {
      expect(found.drift[c]).toBeCloseTo(DRIFT[c], 2)
      expect(found.driftUncertainty[c]).toBeGreaterThan(0.001)
      expect(found.driftUncertainty[c]).toBeLessThan(0.03)
      expect(Math.abs(found.drift[c] - DRIFT[c])).toBeLessThan(3 * found.driftUncertainty[c])
    }
  })

  test('is trusted to stand still to 2 % where it does not', () => {
    const { drift, driftUncertainty } = unseen({ drift: DRIFT })
    expect(Math.abs(drift[0])).toBeLessThan(0.05)
    expect(driftUncertainty[0]).toBeGreaterThan(0.005)
    // Red by 2 %, the others' colour by half a per cent besides.
    const still = unseen().driftUncertainty
    expect(still[0]).toBeGreaterThan(0.015)
    expect(still[0]).toBeLessThan(0.0202)
    expect(Math.hypot(still[0], 0.005)).toBeCloseTo(still[1], 3)
    expect(Math.hypot(still[0], 0.005)).toBeCloseTo(still[2], 3)
  })
})

describe('exposures', () => {
  test('that are not as stated show, as far as they may be off', () => {
    const errors = [0, 0, 0.03, 0, 0, 0, 0, 0]
    const loose = recovered({ errors }, { prior: { ...STIFF[1], exposure: 0.02 } })
    // The curve takes up a part of it.
    expect(loose.exposureErrors[2]).toBeGreaterThan(0.015)
    expect(loose.exposureErrors[2]).toBeLessThan(0.03)
    expect(loose.exposureErrors.indexOf(Math.max(...loose.exposureErrors))).toBe(2)
    const tight = recovered({ errors }, { prior: { ...STIFF[1], exposure: 0.002 } })
    expect(tight.exposureErrors[2]).toBeLessThan(0.5 * loose.exposureErrors[2]!)
    expect(tight.misfit).toBeGreaterThan(loose.misfit)
  })

  test('have a variance that is no more than what was known of them', () => {
    const { exposureVariances } = recovered({}, { prior: { ...STIFF[1], exposure: 0.02 } })
    for (const v of exposureVariances) {
      expect(v).toBeGreaterThan(0)
      expect(v).toBeLessThan(0.02 ** 2)
    }
    const frames = framesOf().map((frame, k) =>
      k === 3 ? { ...frame, lnExposureUncertainty: 1 } : frame,
    )
    const opened = recoverResponse(frames, 'channel', true, { ...STIFF[1], exposure: 0.02 })
    // The frame's own red, green and blue say it again, by the curve.
    expect(opened.exposureVariances[3]).toBeGreaterThan(exposureVariances[3]!)
    expect(opened.exposureVariances[3]).toBeLessThan(0.1 ** 2)
  })
})

describe('what is left open', () => {
  test('is as wide as draws of the noise scatter, or wider by what was known beforehand', () => {
    const draws = Array.from({ length: 12 }, (_, k) => recovered({ noise: 1, seed: 60 + k }))
    const errors = draws.map((found) => green(found) - (GLOW[1] - GLOW[0]))
    const rms = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0) / errors.length)
    expect(rms).toBeLessThan(1.3 * sdOf(draws[0]!))
    expect(sdOf(draws[0]!)).toBeLessThan(0.05)
    const misfit = draws.reduce((sum, found) => sum + found.misfit, 0) / draws.length
    // Somewhat below 1: what was known beforehand is true here, and takes noise up as well.
    expect(misfit).toBeGreaterThan(0.75)
    expect(misfit).toBeLessThan(1)
  })

  test('grows with a misfit, and is one covariance of light and curve', () => {
    const [one, three] = [recovered(), recovered({ noise: 4 })]
    expect(three.misfit).toBeGreaterThan(2)
    expect(sdOf(three) / sdOf(one) / three.misfit).toBeCloseTo(1, 0)
    const size = one.response.coefficients.length
    expect(one.responseCovariance).toHaveLength((size * (size + 1)) / 2)
    for (let i = 0; i < size; i++) {
      const own = one.responseCovariance[(i * (i + 3)) / 2]!
      expect(own).toBeGreaterThan(0)
      // Cauchy and Schwarz.
      expect(Math.abs(one.responseWithGreen[i]!)).toBeLessThanOrEqual(
        Math.sqrt(own) * sdOf(one) * (1 + 1e-6),
      )
    }
    // A curve that bends more between the codes of red and green makes G/R larger or smaller.
    expect(Math.max(...one.responseWithGreen.map(Math.abs))).toBeGreaterThan(0)
  })

  test('of light is one covariance, the same read either way', () => {
    const { covariance } = recovered({ noise: 1 })
    for (const a of [0, 1, 2] as const) {
      expect(covariance[a][a]).toBeGreaterThan(0)
      for (const b of [0, 1, 2] as const) {
        expect(covariance[a][b]).toBeCloseTo(covariance[b][a], 9)
        if (a !== b) expect(covariance[a][b] ** 2).toBeLessThan(covariance[a][a] * covariance[b][b])
      }
    }
    // Blue is seen in the fewest and lowest codes, furthest from where light counts from.
    expect(covariance[2][2]).toBeGreaterThan(covariance[0][0])
  })

  test('is told frame by frame, in ln light', () => {
    const frames = framesOf({ power: 0.75 }).map((frame, k) => {
      const [r, g, b] = frame.nominal
      return k === 3 ? { ...frame, nominal: [r, g! + 0.04, b] as const } : frame
    })
    const { residuals } = recoverResponse(frames, 'channel', true, { ...STIFF[1], exposure: 0.002 })
    // The curve takes a good part of it up: no other frame was seen at that level of green.
    const all = residuals.flat() as number[]
    expect(residuals[3]![1]).toBe(Math.max(...all))
    expect(residuals[3]![1]).toBeGreaterThan(0.012)
    expect(residuals[3]![1]).toBeLessThan(0.04)
  })

  test('is decided between priors by their evidence: a power fits the stiffest', () => {
    const by = (bend: BendPrior) => recovered({}, { prior: { ...bend, exposure: 0.002 } }).deviance
    expect(by(STIFF[1])).toBeLessThan(by(STIFF[0]))
    expect(by(STIFF[0])).toBeLessThan(by(FREE[0]))
    expect(by(FREE[0])).toBeLessThan(by(FREE[1]))
  })
})
