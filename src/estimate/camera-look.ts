/**
 * What one camera stores of a glow in an ordinary photo, and how far that can be trusted: the camera
 * locus after the camera's known heats, read backwards. A swatch at a temperature is the colour that
 * a photo must show for its reading to say that temperature; so swatch and photo are compared like for
 * like. Its range holds all photos with its green over red, without the pixels' noise: cameras differ
 * in blue, which a reading counts and a swatch cannot, so the range is wider than that of a reading.
 */
import { encodeTransfer, SRGB_FROM_P3 } from '../colour/rgb-spaces.ts'
import type { RgbSpace } from '../light/image.ts'
import { type Triple, transform } from '../numerics/matrix3.ts'
import { trueTemperatureFromColourWien } from '../physics/emissivity.ts'
import { CAMERA_LOCUS } from './camera-locus/camera-locus.ts'
import type { CameraLocus } from './camera-locus/types.ts'
import { type CameraPosterior, cameraPosterior, mostProbable } from './camera-posterior.ts'
import { expectedRatios } from './expected-ratios.ts'
import { type GlowProblem, glowProblem, referenceStatus } from './glow-problem.ts'
import { idealGlow } from './ideal-glow.ts'
import { GREEN_NM, RED_NM } from './measured-ratio.ts'
import { temperatureDistribution } from './temperature-distribution.ts'
import { ratioCorrection } from './tone-curve-prior.ts'
import type { GlowInput, Linearity } from './types.ts'

/** Which camera, in which state, looking at which surface. Without references: any camera. */
export type LookInput = Pick<GlowInput, 'cameraId' | 'balanceState' | 'references' | 'surface'> & {
  /** Linear level of red in the photo, 0..1: a tone curve bends dull and bright in its own way. */
  readonly redLevel: number
}

/** A look by true temperature, rising. Colours are linear Display P3 ratios of what is stored. */
export interface LookTable {
  readonly temperatureK: readonly number[]
  readonly greenOverRed: readonly number[]
  readonly blueOverRed: readonly number[]
  /** 19 times in 20 a glow of this G/R lies between these; null: no bound on this side. */
  readonly low95K: readonly (number | null)[]
  readonly high95K: readonly (number | null)[]
  /** Ids of the references that it rests on. */
  readonly referenceIds: readonly string[]
}

const COLDEST_K = 765
const HOTTEST_K = 3300
const POINTS = 36
/** Nearer than this to an end of the locus a bound is none. */
const END_K = 1

const withoutBlue = (problem: GlowProblem): GlowProblem => ({
  ...problem,
  reading: { ...problem.reading, blue: null },
})

/** {@link lookTable} with a pause after each of its points, so that the screen stays responsive. */
export function* lookingAt(
  input: LookInput,
  locus: CameraLocus = CAMERA_LOCUS,
): Generator<void, LookTable> {
  const photo = photoLike(input)
  const red = input.redLevel
  const plain = glowProblem(photo([red, red, red]), locus)
  const posterior = mostProbable(cameraPosterior(plain))
  yield
  const { model } = plain
  const expected = expectedRatios(posterior)
  // A card of equal codes is white: its colour after balancing is that of the light.
  const white = plain.colour
  const found: { t: number; low: number | null; high: number | null; g: number; b: number }[] = []
  const trueK = (colourK: number) =>
    trueTemperatureFromColourWien(colourK, input.surface.lnGreenOverRed, GREEN_NM, RED_NM)
  for (let i = 0; i < POINTS; i++) {
    const share = i / (POINTS - 1)
    const kelvin = 1 / ((1 - share) / COLDEST_K + share / HOTTEST_K)
    const ratios = expected(kelvin)
    const g = Math.max(ratios.green / white.green, 1e-4)
    const b = Math.max(ratios.blue / white.blue, 0)
    const straight: Triple = [red, red * g, red * b]
    const bentB = b / Math.exp(meanBlueCorrection(posterior, photo(straight).linearity))
    const problem = glowProblem(photo([red, red * g, red * bentB]), locus)
    const swatch = temperatureDistribution({ ...posterior, problem })
    const alike = temperatureDistribution({ ...posterior, problem: withoutBlue(problem) })
    const middle = swatch.quantile(0.5)
    const low = Math.min(swatch.quantile(0.025), alike.quantile(0.025))
    const high = Math.max(swatch.quantile(0.975), alike.quantile(0.975))
    yield
    const t = trueK(middle)
    if (middle - model.coldestK < END_K || model.hottestK - middle < END_K) continue
    const last = found.at(-1)
    if (last && (t <= last.t || g <= last.g)) continue
    found.push({
      t,
      low: low - model.coldestK < END_K ? null : trueK(low),
      high: model.hottestK - high < END_K ? null : trueK(high),
      g,
      b: bentB,
    })
  }
  return {
    temperatureK: found.map(({ t }) => t),
    greenOverRed: found.map(({ g }) => g),
    blueOverRed: found.map(({ b }) => b),
    low95K: found.map(({ low }) => low),
    high95K: found.map(({ high }) => high),
    referenceIds: plain.references.map(({ reference }) => reference.id),
  }
}

/** What a camera makes of glows from some 770 to 3000 K. */
export function lookTable(input: LookInput, locus: CameraLocus = CAMERA_LOCUS): LookTable {
  const steps = lookingAt(input, locus)
  for (;;) {
    const step = steps.next()
    if (step.done) return step.value
  }
}

/**
 * What is stored of a glow, and between which temperatures a glow stored so may lie. Beyond the ends
 * of the look the colour of its end.
 */
export function lookAt(look: LookTable, temperatureK: number) {
  const { temperatureK: t } = look
  const above = t.findIndex((node) => node > temperatureK)
  const i = Math.min(Math.max(above === -1 ? t.length - 1 : above, 1), t.length - 1)
  const share = Math.min(Math.max((temperatureK - t[i - 1]!) / (t[i]! - t[i - 1]!), 0), 1)
  const between = (list: readonly number[]) => list[i - 1]! + share * (list[i]! - list[i - 1]!)
  const bound = (list: readonly (number | null)[]) => {
    const [from, to] = [list[i - 1]!, list[i]!]
    // Its distance from the swatch is what changes slowly.
    return from === null || to === null
      ? null
      : temperatureK + (1 - share) * (from - t[i - 1]!) + share * (to - t[i]!)
  }
  return {
    greenOverRed: between(look.greenOverRed),
    blueOverRed: between(look.blueOverRed),
    low95K: bound(look.low95K),
    high95K: bound(look.high95K),
  }
}

/** An ordinary photo, taken as the newest of the references was: no card, its curve not undone. */
function photoLike(input: LookInput): (stored: Triple) => GlowInput {
  const settings = { channels: 'display-p3', cameraToXyz: null, balance: null } as const
  const [newest] = input.references
    .filter((reference) => referenceStatus(reference, { ...input, ...settings }) === null)
    .sort((a, b) => b.takenAt.localeCompare(a.takenAt))
  const taken = newest?.linearity
  const linearity = (stored: Triple): Linearity => {
    if (taken?.kind === 'linear') return taken
    // Where a sweep has found the curve, the picture that is looked at is still bent by it.
    const space = taken?.kind === 'single' ? taken.space : 'srgb'
    const curveId = taken?.kind === 'single' ? taken.curveId : 'photo that is looked at'
    return { kind: 'single', curveId, storedLevels: codes(stored, space), space }
  }
  return (stored) => ({
    ...input,
    ...settings,
    ...idealGlow(stored),
    linearity: linearity(stored),
  })
}

function codes(linearP3: Triple, space: RgbSpace): Triple {
  const linear = space === 'srgb' ? transform(SRGB_FROM_P3, linearP3) : linearP3
  const code = (value: number) => encodeTransfer(Math.min(Math.max(value, 0), 1))
  return [code(linear[0]), code(linear[1]), code(linear[2])]
}

/** ln of what the tone curve leaves of B/R, over the curves as probable as the references make them. */
function meanBlueCorrection(
  { hypotheses, problem }: CameraPosterior,
  linearity: Linearity,
): number {
  if (linearity.kind !== 'single') return 0
  const { storedLevels, space } = linearity
  const weights = problem.curves.map(() => 0)
  for (const { curve, weight } of hypotheses) weights[curve]! += weight
  return problem.curves.reduce(
    (sum, curve, i) => sum + weights[i]! * ratioCorrection(curve, storedLevels, space).blue,
    0,
  )
}
