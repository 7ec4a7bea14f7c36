/** Cameras with the faults of real ones, read as ordinary photos in linear light. */
import { estimateGlow } from '../../src/estimate/estimate-glow.ts'
import type { BalanceState, GlowInput, KnownHeatReference } from '../../src/estimate/types.ts'
import { glowSpectrum, simulateCamera } from '../../src/light/simulate/simulated-camera.ts'
import { type ConditionResult, outcomeOf, seedOf } from './bench.ts'
import type { TestedCamera, TestSet } from './cameras.ts'
import { COPPER, cardBalance, type Heat, inputOf, referenceOf, SALT } from './conditions.ts'
import {
  DISTURBANCES,
  type Disturbance,
  type DisturbanceRow,
  disturbedPatch,
  leakyResponse,
  sloped,
} from './disturbance.ts'
import { type Sensor, sampled } from './photograph.ts'
import { type Random, seeded } from './random.ts'
import { statedMatrix } from './raw-path.ts'
import { Score } from './score.ts'

export const DISTURBED_K = [973, 1073.6, 1173, 1273, 1373, 1573]

/** What such a camera is tied to; raw pixels know neither vivid colours nor a balance. */
export interface Tied {
  readonly name: string
  readonly heats: readonly Heat[]
  readonly raw: boolean
  /** Its lock was seen to hold, and heats and reading are the very piece: see {@link PRESET}. */
  readonly tried?: boolean
}

export const TIED: readonly Tied[] = [
  { name: 'card', heats: [], raw: false },
  { name: 'salt', heats: [SALT], raw: false },
  { name: 'salt and copper', heats: [SALT, COPPER], raw: false },
  { name: 'raw, salt and copper', heats: [SALT, COPPER], raw: true },
  { name: 'salt, tried lock and one piece', heats: [SALT], raw: false, tried: true },
  {
    name: 'salt and copper, tried lock and one piece',
    heats: [SALT, COPPER],
    raw: false,
    tried: true,
  },
]

/** A preset that nobody has tried, and a surface of the same material but not the same piece. */
const PRESET: BalanceState = { kind: 'daylight', colourTemperatureK: null }
const STEEL = { id: 'steel', lnGreenOverRed: 0, standardUncertainty: 0.03 }

/**
 * What a camera so tied cannot do: raw pixels have neither vivid colours nor a balance, a lock that holds does
 * not move, and the very piece is no other surface.
 */
const contradicts = ({ name }: DisturbanceRow, { raw, tried }: Tied): boolean =>
  (raw && /^(saturation|balance)/.test(name)) || (tried === true && /^(balance|surface)/.test(name))

/** Of the drift that is drawn for a lock that nobody tried: a sixth is left of one that holds. */
const HELD_SHARE = 1 / 6

export function runDisturbed(
  set: TestSet,
  options: {
    readonly draws: number
    readonly sensor: Sensor
    readonly rows?: readonly DisturbanceRow[]
    readonly tied?: readonly Tied[]
    readonly temperaturesK?: readonly number[]
    /** Name of one result, else all. */
    readonly only?: string | null
  },
): ConditionResult[] {
  const { draws, sensor, rows = DISTURBANCES, tied = TIED, temperaturesK = DISTURBED_K } = options
  return tied.flatMap((to) =>
    rows.flatMap((row) => {
      const name = `${row.name}: ${to.name}`
      if ((options.only && options.only !== name) || contradicts(row, to)) return []
      const scores = temperaturesK.map((kelvin) => new Score(kelvin))
      for (const [index, camera] of set.cameras.entries())
        for (let draw = 0; draw < draws; draw++) {
          const random = seeded(seedOf(index, name, draw))
          const inputs = disturbedInputs(camera, set, row.draw(random), to, temperaturesK, {
            sensor,
            random,
          })
          for (const [i, input] of inputs.entries())
            scores[i]!.add(outcomeOf(estimateGlow(input, camera.locus)))
        }
      return [{ name, rows: scores.map((score) => score.row()) }]
    }),
  )
}

function disturbedInputs(
  camera: TestedCamera,
  { training }: TestSet,
  disturbance: Disturbance,
  { heats, raw, tried }: Tied,
  temperaturesK: readonly number[],
  { sensor, random }: { readonly sensor: Sensor; readonly random: Random },
): GlowInput[] {
  const simulated = simulateCamera(camera.sensitivity, training, 'daylight')
  const { leak } = disturbance
  const surface = tried ? 0 : disturbance.surface
  const drifted = disturbance.drift * (tried ? HELD_SHARE : 1)
  const photograph = (spectrum: (nm: number) => number, drift = 0) =>
    raw
      ? sampled(leakyResponse(simulated, spectrum, leak), sensor, random)
      : disturbedPatch(simulated, spectrum, sensor, random, { ...disturbance, drift })
  const { balance } = cardBalance({ balance: 'daylight', card: 'preset' }, photograph, random)
  const state: BalanceState = raw
    ? { kind: 'raw', colourTemperatureK: null }
    : tried
      ? { ...PRESET, lock: 'verified' }
      : PRESET
  const piece = tried ? { ...STEEL, piece: 'bar' } : STEEL
  const linearity = { kind: raw ? ('raw' as const) : ('linear' as const) }
  const channels = raw ? ('camera' as const) : ('display-p3' as const)
  const references = heats.map((heat): KnownHeatReference => {
    const trueK = heat.temperatureK + heat.standardUncertaintyK * random.normal()
    const glow = photograph(glowSpectrum(trueK))
    return {
      ...referenceOf(camera, heat, balance, state, glow, linearity),
      channels,
      surface: piece,
    }
  })
  return temperaturesK.map((kelvin) => ({
    ...inputOf(
      camera,
      balance,
      state,
      photograph(sloped(glowSpectrum(kelvin), surface), drifted),
      references,
      linearity,
    ),
    faithfulColours: false,
    channels,
    cameraToXyz: raw ? statedMatrix(simulated) : null,
    surface: piece,
  }))
}
