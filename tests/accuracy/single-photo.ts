/** Single photos, read with a grey card and nothing else, by cameras that the locus has not seen. */
import { decodeTransfer, encodeTransfer, P3_FROM_SRGB } from '../../src/colour/rgb-spaces.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import { type CurveKind, carried } from '../../src/estimate/tone-hypothesis.ts'
import type { RgbSpace } from '../../src/light/image.ts'
import { glowSpectrum, simulateCamera } from '../../src/light/simulate/simulated-camera.ts'
import { linearP3Of } from '../../src/light/tone-response.ts'
import { diagonal, invert, type Triple, transform } from '../../src/numerics/matrix3.ts'
import { outcomeOf, seedOf } from './bench.ts'
import type { TestSet } from './cameras.ts'
import { inputOf, stateOf } from './conditions.ts'
import { type Disturbance, disturbedPatch, UNDISTURBED } from './disturbance.ts'
import { exactCard } from './paths.ts'
import { SENSOR } from './photograph.ts'
import { type Random, seeded } from './random.ts'
import { type Bend, drawBend } from './response-curves.ts'
import { type Outcome, pooled, Score } from './score.ts'

/** Stored red of the glow. */
const RED_CODES = [0.35, 0.92] as const
const TEMPERATURES_K: readonly number[] = [1050, 1173, 1300]

export interface SinglePhotoOptions {
  readonly draws: number
  /**
   * Shares of cameras whose curve acts on each channel; of the others half keep hue, half ratios. A
   * photo that comes out alike for two of them is read once.
   */
  readonly channelShares: readonly number[]
  readonly temperaturesK?: readonly number[]
  readonly family?: number
  readonly drawCurve?: (random: Random) => Bend
  /** What its filter leaks and how vivid its colours are; absent: neither. */
  readonly drawCamera?: (random: Random) => Pick<Disturbance, 'leak' | 'saturation'>
}

/** One result for each of the shares. */
export function singlePhotos(set: TestSet, options: SinglePhotoOptions) {
  const { temperaturesK = TEMPERATURES_K, channelShares } = options
  const scores = channelShares.map(() => temperaturesK.map((kelvin) => new Score(kelvin)))
  for (const [index, camera] of set.cameras.entries()) {
    const simulated = simulateCamera(camera.sensitivity, set.training, 'daylight')
    const balance = exactCard(simulated, SENSOR, seeded(seedOf(index, 'card', 0)))
    for (let draw = 0; draw < options.draws; draw++) {
      const random = seeded(seedOf(index, 'single photo', draw))
      for (const [i, kelvin] of temperaturesK.entries()) {
        const bend = options.drawCurve?.(random) ?? drawBend(random, options.family)
        const kindDrawn = random.uniform()
        const space: RgbSpace = random.uniform() < 0.5 ? 'srgb' : 'display-p3'
        const red = RED_CODES[0] + (RED_CODES[1] - RED_CODES[0]) * random.uniform()
        const { leak, saturation } = options.drawCamera?.(random) ?? UNDISTURBED
        const light = disturbedPatch(simulated, glowSpectrum(kelvin), SENSOR, null, {
          leak,
          saturation,
          drift: 0,
        }).mean
        const outcomeAs = (kind: CurveKind) => {
          const codes = stored(
            space === 'srgb' ? transform(invert(P3_FROM_SRGB), light) : light,
            kind,
            bend,
            red,
          )
          const decoded = codes.map(decodeTransfer) as unknown as Triple
          const mean = linearP3Of(space, decoded)
          const glow = { mean, covariance: diagonal([1e-8, 1e-8, 1e-8]) }
          const linearity = { kind: 'single', curveId: 'its', storedLevels: codes, space } as const
          const input = inputOf(camera, balance, stateOf('daylight'), glow, [], linearity)
          return outcomeOf(estimateGlow({ ...input, faithfulColours: false }, camera.locus))
        }
        const outcomes = new Map<CurveKind, Outcome>()
        for (const [s, share] of channelShares.entries()) {
          const kind = kindOf(kindDrawn, share)
          const outcome = outcomes.get(kind) ?? outcomeAs(kind)
          outcomes.set(kind, outcome)
          scores[s]![i]!.add(outcome)
        }
      }
    }
  }
  return scores.map((list) => {
    const rows = list.map((score) => score.row())
    const biasK = rows.reduce((sum, { biasK }) => sum + biasK, 0) / rows.length
    return { rows, biasK, ...pooled(rows) }
  })
}

/** @param u 0..1, as drawn */
function kindOf(u: number, channelShare: number): CurveKind {
  return u < channelShare ? 'channel' : u < (1 + channelShare) / 2 ? 'hue' : 'ratio'
}

/** Codes 0..1, rounded to 8 bits over many pixels, of a light whose red is stored as `red`. */
function stored(light: Triple, kind: CurveKind, bend: Bend, red: number): Triple {
  const shown = (scale: number) =>
    carried(kind, light.map((v) => Math.max(v * scale, 0)) as unknown as Triple, bend)
  let [low, high] = [0, 1 / Math.max(...light)]
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2
    if (encodeTransfer(shown(middle)[0]) < red) low = middle
    else high = middle
  }
  return shown(low).map((v) => encodeTransfer(Math.min(Math.max(v, 0), 1))) as unknown as Triple
}
