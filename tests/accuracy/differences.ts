/**
 * Two readings by one camera: how well their difference is known; and readings whose brightness is
 * joined with their colour, as things are and where something has changed unseen.
 */
import type { SpectralPower } from '../../src/colour/xyz.ts'
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
import type { LevelScene, Row } from './difference-rows.ts'
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
/**
 * What a lock that was seen to hold leaves open from photo to photo, in ln(G/R); and a card in each
 * picture (estimate/balance-drift.ts).
 */
const DRIFT = { lock: 0.005, cardInPicture: 0.003 } as const

/** Steel as oxidised against a hole: emissivities that the tables state with their spread. */
const OTHER_SURFACE = { heat: 'steel-oxidised', reading: 'nickel-chromium-oxidised' } as const

export function runDifferences(
  set: TestSet,
  { draws, sensor }: { readonly draws: number; readonly sensor: Sensor },
  rows: readonly Row[],
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
    const photograph = (spectrum: SpectralPower) =>
      deliveredPatch(simulated, spectrum, sensor, random)
    const { balance } = cardBalance(CARD, photograph, random)
    this.balance = { ...balance, samePicture: row.held === 'cardInPicture' }
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
    const error = curved + DRIFT[this.row.held ?? 'lock'] * this.random.normal()
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
