/** Ways from a photo to linear light, each read with the same cameras and known heat: salt. */

import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import { linearityOfSweep } from '../../src/estimate/linearity-by-curve.ts'
import type { GlowInput, GreyBalance, Linearity } from '../../src/estimate/types.ts'
import { measureSweep } from '../../src/light/exposure-sweep/measure-sweep.ts'
import type { SweepMeasurement } from '../../src/light/exposure-sweep/sweep-result.ts'
import type { LinearColour } from '../../src/light/image.ts'
import { measurePhoto } from '../../src/light/measure-photo.ts'
import {
  glowSpectrum,
  type SimulatedCamera,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import { outcomeOf, seedOf } from './bench.ts'
import type { TestedCamera, TestSet } from './cameras.ts'
import { cardBalance, type Heat, inputOf, referenceOf, stateOf } from './conditions.ts'
import {
  BAR_REGION,
  COARSE,
  type Coding,
  drawSession,
  FINE,
  photographBar,
  redForCode,
  type Session,
} from './photo-scene.ts'
import { deliveredPatch, type Sensor } from './photograph.ts'
import { type Random, seeded } from './random.ts'
import { Score, type ScoreRow } from './score.ts'
import type { CurveFamily } from './tone-curves.ts'

/** Photos of whole pixels are costly: fewer temperatures than the conditions have. */
export const SOME_K = [1000, 1173, 1357.8, 1600]

export const SALT = { temperatureK: 1073.6, standardUncertaintyK: 6 }
export const CARD = { balance: 'daylight', card: 'preset' } as const
/** Red of a single photo, stored code. */
const RED_CODES = [0.3, 0.8] as const
/** Sweeps start with red at this code and go down by one stop a frame. */
const SWEEP_TOP_CODE = 0.96
const SWEEP_FRAMES = 9

/** What one path makes of a glow: null where it refuses. */
export interface Seen {
  readonly glow: LinearColour
  readonly linearity: Linearity
}

/** A known heat as it was photographed. */
export interface Melt {
  readonly heat: Omit<Heat, 'drawn'>
  readonly seen: Seen
}

interface Bench {
  readonly camera: TestedCamera
  readonly simulated: SimulatedCamera
  readonly sensor: Sensor
  readonly random: Random
}

export interface Path {
  readonly name: string
  readonly temperaturesK: readonly number[]
  /** Share of the draws that this costly path takes. */
  readonly drawShare: number
  /** Whether each reading is compared with the same in linear light. */
  readonly againstLinear: boolean
  /** Everything photographed once for a draw; then one glow after the other. */
  prepare(bench: Bench): {
    reference: Seen | null
    /** Further melts, each beside the salt. */
    others?: readonly Melt[]
    read(temperatureK: number): Seen | null
  }
}

const linear: Path = {
  name: 'linear',
  temperaturesK: SOME_K,
  drawShare: 1,
  againstLinear: false,
  prepare: ({ simulated, sensor, random }) => {
    const see = (kelvin: number): Seen => ({
      glow: deliveredPatch(simulated, glowSpectrum(kelvin), sensor, random),
      linearity: { kind: 'linear' },
    })
    return { reference: see(saltDrawn(random)), read: see }
  },
}

export const saltDrawn = (random: Random) =>
  SALT.temperatureK + SALT.standardUncertaintyK * random.normal()

export const seenBySweep = (sweep: SweepMeasurement, curveId: string): Seen => ({
  glow: sweep.glow,
  linearity: linearityOfSweep(curveId, sweep),
})

function sweep(name: string, coding: Coding, family: CurveFamily): Path {
  return {
    name,
    temperaturesK: [1173],
    drawShare: 0.25,
    againstLinear: true,
    prepare: ({ simulated, sensor, random }) => {
      const salt = saltDrawn(random)
      const session = drawSession(simulated, sensor, random, family, coding)
      const see = (kelvin: number): Seen | null => {
        const spectrum = glowSpectrum(kelvin)
        const top = redForCode(session, spectrum, SWEEP_TOP_CODE)
        const frames = Array.from({ length: SWEEP_FRAMES }, (_, stop) => ({
          image: photographBar(session, spectrum, top / 2 ** stop, random),
          relativeExposure: 2 ** -stop,
        }))
        const result = measureSweep(frames, BAR_REGION, { steps: stepsOf(coding) })
        if (result.kind === 'refused') return null
        // Each sweep recovers its own curve.
        return seenBySweep(result, `${name} ${kelvin}`)
      }
      return { reference: see(salt), read: see }
    },
  }
}

/** DC steps of the quantisation tables of ISO/IEC 10918-1, annex K, at a quality. */
export const stepsOf = ({ quality }: Coding) => {
  const scale = quality < 50 ? 50 / quality : 2 - quality / 50
  const step = (base: number) => Math.max(1, Math.round(base * scale))
  return { luma: step(16), chroma: step(17) }
}

function single(name: string, matched: boolean, family: CurveFamily): Path {
  return {
    name,
    temperaturesK: SOME_K,
    drawShare: 0.5,
    againstLinear: false,
    prepare: ({ simulated, sensor, random }) => {
      const salt = saltDrawn(random)
      const session = () => drawSession(simulated, sensor, random, family, FINE)
      const level = () => RED_CODES[0] + (RED_CODES[1] - RED_CODES[0]) * random.uniform()
      const see = (kelvin: number, at: Session, code: number, curveId: string): Seen | null => {
        const spectrum = glowSpectrum(kelvin)
        const image = photographBar(at, spectrum, redForCode(at, spectrum, code), random)
        const measured = measurePhoto(image, BAR_REGION, { chromaSubsampled: false })
        if (measured.refused) return null
        return {
          glow: measured.glow,
          linearity: {
            kind: 'single',
            curveId,
            storedLevels: measured.storedLevels,
            space: 'display-p3',
          },
        }
      }
      const common = session()
      const code = level()
      const reference = matched
        ? see(salt, common, code, 'common')
        : see(salt, session(), level(), 'other')
      return { reference, read: (kelvin) => see(kelvin, common, code, 'common') }
    },
  }
}

export const PATHS: readonly Path[] = [
  linear,
  sweep('sweep quality 95', FINE, 'contrast'),
  sweep('sweep quality 80', COARSE, 'contrast'),
  sweep('sweep, other curves', FINE, 'wave'),
  single('single', false, 'contrast'),
  single('single, matched level', true, 'contrast'),
  single('single, other curves', false, 'wave'),
  single('single, other curves, matched level', true, 'wave'),
]

export interface PathResult {
  readonly name: string
  readonly rows: readonly ScoreRow[]
  /** Root mean square of (path - linear) at 1173 K on the same cameras and melts; sweeps only. */
  readonly againstLinearK: number | null
  readonly refusedSweeps: number
}

export function runPaths(
  set: TestSet,
  options: { readonly draws: number; readonly sensor: Sensor },
  paths: readonly Path[] = PATHS,
): PathResult[] {
  return paths.map((path) => {
    const { temperaturesK } = path
    const scores = temperaturesK.map((kelvin) => new Score(kelvin))
    const draws = Math.max(1, Math.round(options.draws * path.drawShare))
    let refusedSweeps = 0
    const differences: number[] = []
    for (const [index, camera] of set.cameras.entries()) {
      const simulated = simulateCamera(camera.sensitivity, set.training, 'daylight')
      for (let draw = 0; draw < draws; draw++) {
        // The same melt for every path: the first number drawn.
        const random = seeded(seedOf(index, 'paths', draw))
        const bench: Bench = { camera, simulated, sensor: options.sensor, random }
        const balance = exactCard(simulated, options.sensor, seeded(seedOf(index, 'card', draw)))
        const { reference, others, read } = path.prepare(bench)
        const reading = (seen: Seen | null) =>
          seen === null || reference === null
            ? null
            : estimateGlow(inputFor(camera, balance, seen, reference, others), camera.locus)
        for (const [i, kelvin] of temperaturesK.entries()) {
          const estimate = reading(read(kelvin))
          if (estimate === null) refusedSweeps++
          scores[i]!.add(estimate === null ? { kind: 'no number' } : outcomeOf(estimate))
          if (!path.againstLinear || estimate?.kind !== 'temperature') continue
          const same = linear.prepare({ ...bench, random: seeded(seedOf(index, 'paths', draw)) })
          const straight = estimateGlow(
            inputFor(camera, balance, same.read(kelvin)!, same.reference!),
            camera.locus,
          )
          if (straight.kind === 'temperature')
            differences.push(estimate.temperatureK - straight.temperatureK)
        }
      }
    }
    const rms = Math.sqrt(differences.reduce((sum, d) => sum + d * d, 0) / differences.length)
    return {
      name: path.name,
      rows: scores.map((score) => score.row()),
      againstLinearK: differences.length > 0 ? rms : null,
      refusedSweeps,
    }
  })
}

export const exactCard = (camera: SimulatedCamera, sensor: Sensor, random: Random): GreyBalance =>
  cardBalance(CARD, (spectrum) => deliveredPatch(camera, spectrum, sensor, random), random).balance

export function inputFor(
  camera: TestedCamera,
  balance: GreyBalance,
  seen: Seen,
  reference: Seen,
  others: readonly Melt[] = [],
): GlowInput {
  const state = stateOf('daylight')
  const references = [{ heat: SALT, seen: reference }, ...others].map(({ heat, seen: photo }) =>
    referenceOf(camera, heat, balance, state, photo.glow, photo.linearity),
  )
  return inputOf(camera, balance, state, seen.glow, references, seen.linearity)
}
