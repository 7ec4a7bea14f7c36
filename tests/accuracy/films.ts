/**
 * Slopes of simulated films: bars that cool before cameras that the estimate has not seen,
 * through tone curves as measured cameras have them, read frame by frame as the app reads a film.
 */
import { encodeTransfer, linearSrgbFromP3 } from '../../src/colour/rgb-spaces.ts'
import { liveLine } from '../../src/estimate/live/live-line.ts'
import { courseByLevel, rateShare } from '../../src/estimate/recording/course-by-level.ts'
import type { HeatCurve } from '../../src/estimate/recording/heat-curve.ts'
import { type StandingHeat, scaleByHeats } from '../../src/estimate/recording/set-by-heats.ts'
import { slopeBetween } from '../../src/estimate/recording/slope.ts'
import { referenceLike } from '../../src/estimate/reference-like.ts'
import type { KnownHeatReference } from '../../src/estimate/types.ts'
import { measureSweep } from '../../src/light/exposure-sweep/measure-sweep.ts'
import type { ToneCurve } from '../../src/light/exposure-sweep/tone-curve.ts'
import type { Region } from '../../src/light/image.ts'
import { frameCodes } from '../../src/light/live/frame-codes.ts'
import {
  deliveredP3,
  glowSpectrum,
  type SimulatedCamera,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import type { FrameLookInput } from '../../src/sources/live/live-operations.ts'
import { look } from '../../src/sources/live/look.ts'
import { readFrames } from '../../src/sources/video/read-frames.ts'
import { film, HEIGHT, WIDTH } from '../sources/video/simulated-film.ts'
import { seedOf } from './bench.ts'
import type { TestedCamera, TestSet } from './cameras.ts'
import { type Random, seeded } from './random.ts'
import { drawBend } from './response-curves.ts'
import { throughCurve } from './tone-curves.ts'

export interface FilmKind {
  readonly name: string
  /** The tone curve of the stream, found by a sweep before. */
  readonly swept: boolean
  /** Melts filmed before by the same stream, K, each ± 3 K: what a plateau is worth. */
  readonly heats: readonly number[]
}

/** Salt and silver, as plateaus. */
const [SALT_K, SILVER_K] = [1073.55, 1234.93]
export const FILM_KINDS: readonly FilmKind[] = [
  { name: 'film, unknown curve', swept: false, heats: [] },
  { name: 'film, unknown curve, one plateau', swept: false, heats: [SILVER_K] },
  { name: 'film, unknown curve, two plateaus', swept: false, heats: [SALT_K, SILVER_K] },
  { name: 'film, swept curve', swept: true, heats: [] },
  { name: 'film, swept curve, two plateaus', swept: true, heats: [SALT_K, SILVER_K] },
]

const SECONDS = 14
const PER_SECOND = 5
const STRAY = 0.0005
const HEAT_K = 3
/** The middle of the bar that the simulated film shows. */
const MIDDLE: Region = { shape: 'rectangle', x: 62, y: 54, width: 76, height: 28 }

export interface FilmScore {
  readonly name: string
  readonly films: number
  /** Films without a slope: refused, or clipped. */
  readonly refused: number
  /** Of the slope, shares of the true one. */
  readonly rms: number
  readonly bias: number
  readonly median: number
  readonly coverage95: number
  /** Mean of twice the stated relative standard uncertainty. */
  readonly stated: number
  /** Coverage of the temperature in the middle. */
  readonly levelCoverage95: number
}

/** One film, read in all ways; null where there is no slope. */
async function filmed(
  camera: TestedCamera,
  simulated: SimulatedCamera,
  kind: FilmKind,
  random: Random,
) {
  const bend = drawBend(random)
  const curveKind = random.uniform() < 0.5 ? 'ratio' : 'channel'
  const hottest = 1160 + 140 * random.uniform()
  const rate = 4 + 5 * random.uniform()
  const truth = (t: number) => hottest - rate * t
  const light = (kelvin: number): Triple =>
    linearSrgbFromP3(deliveredP3(simulated, glowSpectrum(kelvin)))
  // As bright as the hottest may be without clipping, or up to two stops less.
  const unit = (0.8 * 2 ** (-2 * random.uniform())) / light(hottest)[0]
  const codes = (kelvin: number, stops = 0): Triple => {
    const scale = unit * 2 ** stops
    const rgb = light(kelvin).map((v) => Math.max(0, v * scale + STRAY)) as unknown as Triple
    const bent = throughCurve({ kind: curveKind, bend }, rgb)
    return bent.map((v) => Math.min(1, encodeTransfer(v))) as unknown as Triple
  }
  const ground = encodeTransfer(bend(STRAY))
  const settings: FrameLookInput['settings'] = {
    channels: 'display-p3',
    cameraToXyz: null,
    balanceState: { kind: 'daylight', colourTemperatureK: 6500 },
    surface: { id: 'grey', lnGreenOverRed: 0, standardUncertainty: 0.01 },
    window: null,
    cameraId: camera.name,
    takenAt: null,
    references: [],
  }
  const recovered = kind.swept ? await swept(codes, hottest, ground, random) : null
  const curve = { id: 'a stream', recovered, movedBy: 0 }
  const lineOf = (input: Parameters<typeof liveLine>[0]) => liveLine(input, camera.locus)
  const looking = (input: FrameLookInput) => look(input, lineOf)
  const references: KnownHeatReference[] = []
  for (const heat of kind.heats) {
    const melt = heat + HEAT_K * random.normal()
    // Exposed for itself, as a person would.
    const stops = Math.log2(light(hottest)[0] / light(melt)[0])
    const frames = film({
      seconds: 0.1,
      perSecond: 10,
      codes: () => codes(melt, stops),
      ground,
      random,
    })
    for await (const { frame } of frames) {
      const pixels = await frame.copy({ left: 0, top: 0, right: WIDTH, bottom: HEIGHT })
      const { line } = looking({
        pixels,
        sight: MIDDLE,
        card: null,
        settings,
        curve,
        exposure: null,
      })
      if (!line) continue
      references.push(
        referenceLike(line.input, {
          id: `${heat}`,
          name: `${heat} K`,
          takenAt: '2000-01-01T00:00:00Z',
          temperatureK: heat,
          standardUncertaintyK: HEAT_K,
        }),
      )
    }
  }
  const read = await readFrames(
    film({
      seconds: SECONDS,
      perSecond: PER_SECOND,
      codes: (t) => codes(truth(t)),
      ground,
      random,
    }),
    {
      region: null,
      captureSeconds: 1,
      perSecond: PER_SECOND,
      settings: { ...settings, references },
      curve,
    },
    looking,
  )
  const seconds = Float64Array.from(read.ms, (ms) => ms / 1000)
  const columns = {
    seconds,
    temperatureK: Float32Array.from(read.temperatureK),
    noiseK: Float32Array.from(read.noiseK),
    commonK: Float32Array.from(read.commonK),
    lnRed: Float32Array.from(read.lnRed),
  }
  /** @param at shares of the film at which a melt stood in it, which sets the curve */
  const ask = (by: 'ratio' | 'level', at: readonly number[] = []): FilmOutcome | null => {
    const share = rateShare(columns, by, recovered !== null)
    const curve = at.length === 0 ? { ...columns, rateShare: share } : setAt(at, share)
    const slope = slopeBetween(curve, 0, SECONDS)
    if (!slope) return null
    const middle = (slope.fromSeconds + slope.toSeconds) / 2
    const common = curve.commonK[curve.commonK.length >> 1]!
    return {
      error: slope.slope / -rate - 1,
      stated: slope.standardUncertainty / Math.abs(slope.slope),
      within: Math.abs(slope.slope + rate) <= 1.96 * slope.standardUncertainty,
      levelWithin: Math.abs(slope.temperatureK - truth(middle)) <= 1.96 * common,
    }
  }
  /** The film's own curve through melts that stood in it: what they are known to be is off at random. */
  const setAt = (at: readonly number[], share: number): HeatCurve => {
    const heats = at.map((part, k): StandingHeat => {
      const near = slopeBetween({ ...columns }, part * SECONDS - 1, part * SECONDS + 1)!
      const known = truth((near.fromSeconds + near.toSeconds) / 2) + HEAT_K * standing[k]!
      return {
        seconds: part * SECONDS,
        readK: near.temperatureK,
        temperatureK: known,
        standardUncertaintyK: HEAT_K,
      }
    })
    const scale = scaleByHeats(heats, share)
    const temperatureK = columns.temperatureK.map(scale.temperatureK)
    return {
      ...columns,
      temperatureK,
      commonK: temperatureK.map(scale.commonK),
      rateShare: scale.rateShare,
    }
  }
  const standing = STANDING.map(() => random.normal())
  const three = (by: 'ratio' | 'level') => [
    ask(by),
    ask(by, STANDING.slice(0, 1)),
    ask(by, STANDING),
  ]
  const byRatio = three('ratio')
  courseByLevel(columns, recovered !== null)
  return [...byRatio, ...three('level')]
}
/** Where melts stand in a film that is set by them, shares of its length. */
const STANDING = [0.15, 0.85] as const
const ROWS = ['course by colour', 'exposure locked'].flatMap((course) => [
  course,
  `${course}, a plateau in it`,
  `${course}, two plateaus in it`,
])

interface FilmOutcome {
  /** Of the slope, share of the true one. */
  readonly error: number
  /** Relative standard uncertainty of the slope. */
  readonly stated: number
  readonly within: boolean
  readonly levelWithin: boolean
}

/** The curve of the stream by a sweep down from the brightest picture that does not clip. */
async function swept(
  codes: (kelvin: number, stops: number) => Triple,
  kelvin: number,
  ground: number,
  random: Random,
): Promise<ToneCurve | null> {
  const frames = []
  let stop = 0
  while (Math.max(...codes(kelvin, stop + 0.25)) < 0.97 && stop < 4) stop += 0.25
  for (let n = 0; n < 9; n++) {
    const one = film({
      seconds: 0.1,
      perSecond: 10,
      codes: () => codes(kelvin, stop - n),
      ground: ground / 2 ** (n / 2.2),
      random,
    })
    for await (const { frame } of one) {
      const pixels = await frame.copy({ left: 0, top: 0, right: WIDTH, bottom: HEIGHT })
      frames.push({ image: frameCodes(pixels), relativeExposure: 2 ** -n })
    }
  }
  const result = measureSweep(frames, MIDDLE, { steps: { luma: 1, chroma: 1 } })
  return result.kind === 'refused' ? null : result.curve
}

/** Rows: the course by the colour alone, and by the brightness where exposure is known to stand. */
export async function scoreFilms(
  set: TestSet,
  kind: FilmKind,
  films: number,
): Promise<FilmScore[]> {
  const outcomes = ROWS.map((): FilmOutcome[] => [])
  for (let n = 0; n < films; n++) {
    const camera = set.cameras[n % set.cameras.length]!
    const simulated = simulateCamera(camera.sensitivity, set.training, 'daylight')
    // The same films for every kind.
    const draw = Math.floor(n / set.cameras.length)
    const random = seeded(seedOf(n % set.cameras.length, 'films', draw))
    const found = await filmed(camera, simulated, kind, random)
    for (const [row, outcome] of found.entries()) if (outcome) outcomes[row]!.push(outcome)
  }
  return ROWS.map((row, k) => scored(`${kind.name}, ${row}`, films, outcomes[k]!))
}

function scored(name: string, films: number, found: readonly FilmOutcome[]): FilmScore {
  const mean = (of: (one: FilmOutcome) => number) =>
    found.reduce((sum, one) => sum + of(one), 0) / Math.max(found.length, 1)
  const sizes = found.map(({ error }) => Math.abs(error)).sort((a, b) => a - b)
  return {
    name,
    films,
    refused: films - found.length,
    rms: Math.sqrt(mean(({ error }) => error ** 2)),
    bias: mean(({ error }) => error),
    median: sizes[sizes.length >> 1] ?? Number.NaN,
    coverage95: mean(({ within }) => Number(within)),
    stated: mean(({ stated }) => 2 * stated),
    levelCoverage95: mean(({ levelWithin }) => Number(levelWithin)),
  }
}
