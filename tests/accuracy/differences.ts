/**
 * Two readings by one camera: how well their difference is known; and readings whose brightness is
 * joined with their colour, as things are and where something has changed unseen.
 */
import { ofOnePiece, temperatureDifference } from '../../src/estimate/difference.ts'
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type {
  GlowInput,
  KnownHeatReference,
  LevelConditions,
  Linearity,
} from '../../src/estimate/types.ts'
import type { LinearColour } from '../../src/light/image.ts'
import { respond } from '../../src/light/simulate/sensitivity.ts'
import {
  glowSpectrum,
  type SimulatedCamera,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import type { Matrix3, Triple } from '../../src/numerics/matrix3.ts'
import { outcomeOf, seedOf } from './bench.ts'
import type { TestSet } from './cameras.ts'
import { cardBalance, inputOf, referenceOf, stateOf } from './conditions.ts'
import { CARD, type PathResult } from './paths.ts'
import { deliveredPatch, type Sensor } from './photograph.ts'
import { type Random, seeded } from './random.ts'
import { type Outcome, Score } from './score.ts'

/** Pairs of true temperatures, K. */
const PAIRS = [
  [1168, 1178],
  [1148, 1198],
  [1023, 1173],
] as const
const READINGS_K = [1000, 1173, 1357.8]
const SALT = { temperatureK: 1073.6, standardUncertaintyK: 6 }
const COPPER = { temperatureK: 1357.8, standardUncertaintyK: 8 }

/** What a photo's level does beyond the model; nothing where levels are not used. */
interface LevelScene {
  /** Place of reading and of known heats, over half of the diagonal. */
  readonly readingAt: number
  readonly heatAt: number
  /** One exposure for all photos, or each its own. */
  readonly exposures: 'same' | 'own'
  /** Emissivity of the reading over that of the known heat, drawn as a stated surface would be. */
  readonly surface: 'same' | 'other'
  /** A factor on the reading's level that nobody states. */
  readonly unseen: number
}

const USUAL: LevelScene = {
  readingAt: 0.2,
  heatAt: 0.2,
  exposures: 'same',
  surface: 'same',
  unseen: 1,
}

/** What a lock that was seen to hold leaves open from photo to photo, in ln(G/R). */
const LOCK_DRIFT = 0.005

interface Row {
  readonly name: string
  readonly heats: readonly (typeof SALT)[]
  /** A curve kept from a sweep: its error in ln(G/R), shared, and each photo's own. */
  readonly curve?: { readonly shared: number; readonly own: number }
  readonly levels?: LevelScene
  readonly of: 'difference' | 'reading'
}

export const DIFFERENCES: readonly Row[] = [
  { name: 'difference', heats: [], of: 'difference' },
  { name: 'difference, salt', heats: [SALT], of: 'difference' },
  { name: 'difference, salt and copper', heats: [SALT, COPPER], of: 'difference' },
  {
    name: 'difference, kept curve',
    heats: [SALT],
    curve: { shared: 0.02, own: 0.002 },
    of: 'difference',
  },
  { name: 'difference with brightness', heats: [], levels: USUAL, of: 'difference' },
  { name: 'difference with brightness, salt', heats: [SALT], levels: USUAL, of: 'difference' },
  { name: 'salt, colour alone', heats: [SALT], of: 'reading' },
  { name: 'salt + brightness', heats: [SALT], levels: USUAL, of: 'reading' },
  {
    name: 'salt + brightness, own exposures',
    heats: [SALT],
    levels: { ...USUAL, exposures: 'own' },
    of: 'reading',
  },
  {
    name: 'salt + brightness, at the edge',
    heats: [SALT],
    levels: { ...USUAL, readingAt: 0.8 },
    of: 'reading',
  },
  {
    name: 'salt + brightness, other surface',
    heats: [SALT],
    levels: { ...USUAL, surface: 'other' },
    of: 'reading',
  },
  {
    name: 'salt + brightness, 15 % lost unseen',
    heats: [SALT],
    levels: { ...USUAL, unseen: 0.85 },
    of: 'reading',
  },
  {
    name: 'salt + brightness, half lost unseen',
    heats: [SALT],
    levels: { ...USUAL, unseen: 0.5 },
    of: 'reading',
  },
  {
    name: 'four melts + brightness',
    heats: [
      SALT,
      { temperatureK: 1043.5, standardUncertaintyK: 6 },
      { temperatureK: 1157.9, standardUncertaintyK: 6 },
      { temperatureK: 1342.3, standardUncertaintyK: 6 },
    ],
    levels: USUAL,
    of: 'reading',
  },
]

/** Steel as oxidised against a hole: emissivities that the tables state with their spread. */
const OTHER_SURFACE = { heat: 'steel-oxidised', reading: 'nickel-chromium-oxidised' } as const

export function runDifferences(
  set: TestSet,
  { draws, sensor }: { readonly draws: number; readonly sensor: Sensor },
  rows: readonly Row[] = DIFFERENCES,
): PathResult[] {
  return rows.map((row) => {
    const scores =
      row.of === 'difference'
        ? PAIRS.map(([a, b]) => new Score(b - a))
        : READINGS_K.map((kelvin) => new Score(kelvin))
    for (const [index, camera] of set.cameras.entries()) {
      const simulated = simulateCamera(camera.sensitivity, set.training, 'daylight')
      for (let draw = 0; draw < draws; draw++) {
        const random = seeded(seedOf(index, row.name, draw))
        const bench = new Bench(camera, simulated, sensor, row, random)
        if (row.of === 'reading') {
          for (const [i, kelvin] of READINGS_K.entries())
            scores[i]!.add(outcomeOf(estimateGlow(bench.reading(kelvin, false), camera.locus)))
          continue
        }
        for (const [i, [cold, hot]] of PAIRS.entries()) {
          const found = temperatureDifference(
            bench.reading(cold, true),
            bench.reading(hot, true),
            camera.locus,
          )
          scores[i]!.add(
            found === null ? { kind: 'no number' } : outcome(found.differenceK, found.interval95K),
          )
        }
      }
    }
    return {
      name: row.name,
      rows: scores.map((score) => score.row()),
      againstLinearK: null,
      refusedSweeps: 0,
    }
  })
}

const outcome = (kelvin: number, [low, high]: readonly [number, number]): Outcome => ({
  kind: 'temperature',
  temperatureK: kelvin,
  low,
  high,
  warned: false,
})

/** One camera with its card and its known heats. */
class Bench {
  private readonly balance
  private readonly references: readonly KnownHeatReference[]
  private readonly curveError: number
  private readonly vignetting: number
  private readonly gains = new Map<string, number>()

  constructor(
    private readonly camera: { readonly name: string },
    private readonly simulated: SimulatedCamera,
    private readonly sensor: Sensor,
    private readonly row: Row,
    private readonly random: Random,
  ) {
    this.balance = cardBalance(
      CARD,
      (spectrum) => deliveredPatch(simulated, spectrum, sensor, random),
      random,
    ).balance
    this.curveError = (row.curve?.shared ?? 0) * random.normal()
    this.vignetting = 0.3 * random.uniform()
    this.references = row.heats.map((heat) => {
      const { glow, level } = this.photo(
        heat.temperatureK + heat.standardUncertaintyK * random.normal(),
        row.levels?.heatAt ?? 0,
      )
      const reference = referenceOf(
        camera,
        heat,
        this.balance,
        stateOf('daylight'),
        glow,
        this.linearity(),
      )
      return { ...reference, ...this.surface('heat'), ...(level ? { level } : {}) }
    })
  }

  reading(kelvin: number, inPair: boolean): GlowInput {
    const { levels } = this.row
    const { glow, level } = this.photo(kelvin, levels?.readingAt ?? 0)
    const factor = levels && !inPair ? this.changed(levels) : 1
    const input = inputOf(
      this.camera,
      this.balance,
      stateOf('daylight'),
      scaled(glow, factor),
      this.references,
      this.linearity(),
    )
    const whole = { ...input, ...this.surface('reading'), ...(level ? { level } : {}) }
    return inPair ? ofOnePiece(whole) : whole
  }

  /** What makes the reading's level another than that of its temperature. */
  private changed({ surface, unseen }: LevelScene): number {
    // Oxidised steel 0.80 +- 0.05, nickel-chromium 0.90 +- 0.05 (see materials.data.ts).
    const other =
      surface === 'other'
        ? (0.9 + 0.05 * this.random.normal()) / (0.8 + 0.05 * this.random.normal())
        : 1
    return other * unseen
  }

  private surface(of: 'heat' | 'reading') {
    const id = this.row.levels?.surface === 'other' ? OTHER_SURFACE[of] : 'grey'
    return { surface: { id, lnGreenOverRed: 0, standardUncertainty: 0 } }
  }

  private linearity(): Linearity {
    const { curve } = this.row
    if (!curve) return { kind: 'linear' }
    return {
      kind: 'sweep',
      curveId: 'kept',
      standardUncertaintyGreen: curve.shared,
      standardUncertaintyBlue: 2 * curve.shared,
      ownUncertainty: curve.own,
    }
  }

  private photo(kelvin: number, at: number): { glow: LinearColour; level: LevelConditions | null } {
    const { levels, curve } = this.row
    const plain = deliveredPatch(this.simulated, glowSpectrum(kelvin), this.sensor, this.random)
    const curved = curve ? this.curveError + curve.own * this.random.normal() : 0
    const error = curved + LOCK_DRIFT * this.random.normal()
    const [r, g, b] = plain.mean
    const glow = { ...plain, mean: [r, g * Math.exp(error), b * Math.exp(2 * error)] as Triple }
    if (!levels) return { glow, level: null }
    // The patch has its brightest channel at 1: the light it stands for, and how it was exposed.
    const light = Math.max(...respond(this.simulated.sensitivity, glowSpectrum(kelvin)))
    const exposureSeconds = levels.exposures === 'same' ? 0.01 : 0.01 / light
    const seen = light * exposureSeconds * (1 - this.vignetting * at ** 2)
    const spot = Math.exp(0.02 * this.random.normal() + 0.01 * this.random.normal())
    return {
      glow: scaled(glow, seen * spot * this.gain(`${exposureSeconds}`)),
      level: { exposureSeconds, iso: 100, fNumber: 1.8, fieldRadius: at },
    }
  }

  /** Each setting lets in a little more or less light than its label says. */
  private gain(setting: string): number {
    const known = this.gains.get(setting)
    if (known !== undefined) return known
    const drawn = Math.exp((0.05 / Math.SQRT2) * this.random.normal())
    this.gains.set(setting, drawn)
    return drawn
  }
}

const scaled = ({ mean, covariance }: LinearColour, by: number): LinearColour => ({
  mean: mean.map((value) => value * by) as unknown as Triple,
  covariance: covariance.map((row) => row.map((value) => value * by * by)) as unknown as Matrix3,
})
