/** How well temperatures from simulated spectra hold: error, coverage, width of the intervals. */
import { responseFromLamp } from '../../src/estimate/spectrum/response.ts'
import { KNOWN_GREY, surfaceFromMaterial } from '../../src/estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../src/estimate/spectrum/temperature.ts'
import type {
  Instrument,
  SpectrumLamp,
  SpectrumSurface,
} from '../../src/estimate/spectrum/types.ts'
import { tungstenSpectralEmissivity, tungstenTrueFromColour } from '../../src/physics/tungsten.ts'
import {
  type Conditions,
  INSTRUMENTS,
  normal,
  planck,
  type Radiance,
  type Random,
  SimulatedDay,
  type SimulatedInstrument,
  seededRandom,
  USUAL_CONDITIONS,
} from './spectrum-simulation.ts'

export interface SpectrumBenchOptions {
  /** Draws of every error for each instrument and temperature. */
  readonly draws?: number
  readonly seed?: number
  readonly conditions?: Conditions
  /** Colour temperature of the lamp and its standard uncertainty, K. */
  readonly lampK?: number
  readonly lampUncertaintyK?: number
  readonly instruments?: readonly SimulatedInstrument[]
}

/** One line of the table: temperatures in K, the rest in K or as shares. */
export interface SpectrumBenchCell {
  readonly condition: string
  readonly instrument: string
  readonly temperatureK: number
  readonly cases: number
  readonly refused: number
  readonly rmsK: number
  readonly biasK: number
  readonly coverage95: number
  readonly halfWidth95K: number
}

export interface SpectrumBenchSummary {
  readonly condition: string
  /** Pooled over instruments, for each temperature. */
  readonly temperatureK: readonly number[]
  readonly rmsPercent: readonly number[]
  readonly biasPercent: readonly number[]
  readonly coverage95: readonly number[]
  readonly halfWidthOverRms: readonly number[]
  /** Pooled over temperatures, relative errors. */
  readonly pooled: {
    readonly rmsPercent: number
    readonly coverage95: number
    readonly halfWidthOverRms: number
    readonly refused: number
  }
}

export interface SpectrumBenchResult {
  readonly stated: Required<Omit<SpectrumBenchOptions, 'instruments'>>
  readonly cells: readonly SpectrumBenchCell[]
  readonly summaries: readonly SpectrumBenchSummary[]
}

interface Condition {
  readonly name: string
  readonly temperaturesK: readonly number[]
  readonly surface: SpectrumSurface
  /** The glow's own light, with what is uncertain about its surface drawn anew. */
  readonly glow: (kelvin: number, random: Random) => Radiance
}

/** An emissivity slope anywhere between straight in wavelength (0) and in 1/wavelength (1). */
const sloped = (light: Radiance, lnGreenOverRed: number, bow: number): Radiance => {
  const inverse = (nm: number) => (1 / nm - 1 / 600) / (1 / 550 - 1 / 650)
  const position = (nm: number) => (1 - bow) * ((600 - nm) / 100) + bow * inverse(nm)
  return (nm) => light(nm) * Math.exp(lnGreenOverRed * position(nm))
}
const filament = (kelvin: number): Radiance => {
  const black = planck(kelvin)
  return (nm) => black(nm) * tungstenSpectralEmissivity(nm, kelvin)
}
const OXIDISED = surfaceFromMaterial('steel-oxidised')!
const TUNGSTEN = surfaceFromMaterial('tungsten-bare')!

const CONDITIONS: readonly Condition[] = [
  {
    name: 'cavity or grey body',
    temperaturesK: [1100, 1300, 1600, 2000, 2500, 3000],
    surface: KNOWN_GREY,
    glow: (kelvin) => planck(kelvin),
  },
  {
    name: 'tungsten filament',
    temperaturesK: [1600, 2000, 2500, 3000],
    surface: TUNGSTEN,
    glow: (kelvin, random) =>
      sloped(filament(kelvin), normal(random) * TUNGSTEN.standardUncertainty, random()),
  },
  {
    name: 'oxidised metal, slope unknown',
    temperaturesK: [1100, 1200, 1300, 1450, 1600],
    surface: OXIDISED,
    glow: (kelvin, random) =>
      sloped(planck(kelvin), normal(random) * OXIDISED.standardUncertainty, random()),
  },
]

interface Case {
  readonly errorK: number
  readonly covered: boolean
  readonly halfWidthK: number
}

export function runSpectrumBench(options: SpectrumBenchOptions = {}): SpectrumBenchResult {
  const stated = {
    draws: options.draws ?? 40,
    seed: options.seed ?? 1,
    conditions: options.conditions ?? USUAL_CONDITIONS,
    lampK: options.lampK ?? 2700,
    lampUncertaintyK: options.lampUncertaintyK ?? 20,
  }
  const cells: SpectrumBenchCell[] = []
  const summaries: SpectrumBenchSummary[] = []
  for (const condition of CONDITIONS) {
    const pooled: Case[][] = condition.temperaturesK.map(() => [])
    let refused = 0
    for (const instrument of options.instruments ?? INSTRUMENTS) {
      condition.temperaturesK.forEach((kelvin, t) => {
        const cases: Case[] = []
        const random = seededRandom(stated.seed * 1e6 + cells.length)
        for (let draw = 0; draw < stated.draws; draw++) {
          const one = runCase(condition, instrument, kelvin, stated, random)
          if (one) cases.push(one)
        }
        refused += stated.draws - cases.length
        pooled[t]!.push(...cases)
        cells.push({
          condition: condition.name,
          instrument: instrument.name,
          temperatureK: kelvin,
          cases: cases.length,
          refused: stated.draws - cases.length,
          ...statistics(cases),
        })
      })
    }
    summaries.push(summarise(condition, pooled, refused))
  }
  return { stated, cells, summaries }
}

function runCase(
  condition: Condition,
  simulated: SimulatedInstrument,
  kelvin: number,
  { conditions, lampK, lampUncertaintyK }: SpectrumBenchResult['stated'],
  random: () => number,
): Case | null {
  const instrument: Instrument = {
    strayShare: conditions.strayShare,
    wavelengthUncertaintyNm: conditions.wavelengthUncertaintyNm,
    wavelengthDriftNm: conditions.wavelengthDriftNm,
    nonlinearity: conditions.nonlinearity,
    secondOrderShare: simulated.secondOrder > 0 ? 0.1 : 0,
    saturationLevel: null,
  }
  const lamp: SpectrumLamp = {
    emitter: 'tungsten',
    colourTemperatureK: lampK,
    standardUncertaintyK: lampUncertaintyK,
  }
  const day = new SimulatedDay(simulated, conditions, random)
  const lampTrueK = tungstenTrueFromColour(lampK + lampUncertaintyK * normal(random))
  const response = responseFromLamp(day.record(filament(lampTrueK)), lamp, instrument)
  const recording = day.record(condition.glow(kelvin, random))
  if (!response.ok) return null
  const result = temperatureFromSpectrum({
    recording,
    response: response.response,
    surface: condition.surface,
    window: null,
    range: null,
    ratioNm: null,
    // One of the instruments ends at 640 nm: there a person has to say that it glows.
    statedGlow: true,
  })
  if (!result.ok) return null
  const [low, high] = result.interval95K
  return {
    errorK: result.temperatureK - kelvin,
    covered: low <= kelvin && kelvin <= high,
    halfWidthK: (high - low) / 2,
  }
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length
const rms = (values: readonly number[]) => Math.sqrt(mean(values.map((value) => value * value)))

function statistics(cases: readonly Case[]) {
  return {
    rmsK: rms(cases.map(({ errorK }) => errorK)),
    biasK: mean(cases.map(({ errorK }) => errorK)),
    coverage95: mean(cases.map(({ covered }) => (covered ? 1 : 0))),
    halfWidth95K: mean(cases.map(({ halfWidthK }) => halfWidthK)),
  }
}

function summarise(
  condition: Condition,
  cases: readonly (readonly Case[])[],
  refused: number,
): SpectrumBenchSummary {
  const each = cases.map(statistics)
  const kelvin = condition.temperaturesK
  const relative = cases.flatMap((list, t) =>
    list.map((one) => ({
      errorK: one.errorK / kelvin[t]!,
      halfWidthK: one.halfWidthK / kelvin[t]!,
      covered: one.covered,
    })),
  )
  const pooled = statistics(relative)
  return {
    condition: condition.name,
    temperatureK: kelvin,
    rmsPercent: each.map(({ rmsK }, t) => (100 * rmsK) / kelvin[t]!),
    biasPercent: each.map(({ biasK }, t) => (100 * biasK) / kelvin[t]!),
    coverage95: each.map(({ coverage95 }) => coverage95),
    halfWidthOverRms: each.map(({ halfWidth95K, rmsK }) => halfWidth95K / rmsK),
    pooled: {
      rmsPercent: 100 * pooled.rmsK,
      coverage95: pooled.coverage95,
      halfWidthOverRms: pooled.halfWidth95K / pooled.rmsK,
      refused,
    },
  }
}

/** The result as lines of a table for a terminal. */
export function spectrumBenchTable(result: SpectrumBenchResult): string {
  const { stated } = result
  const { conditions } = stated
  const lines = [
    `spectra: ${stated.draws} draws per instrument and temperature; lamp ${stated.lampK} +- ${stated.lampUncertaintyK} K;`,
    `  peak ${conditions.peakElectrons} electrons, read noise ${conditions.readElectrons}, ${conditions.scans} scans (signal to noise ${Math.round(
      Math.sqrt(conditions.peakElectrons * conditions.scans),
    )} at the peak), stray light ${conditions.strayShare},`,
    `  linearity ${conditions.nonlinearity}, wavelength scale ${conditions.wavelengthUncertaintyNm} nm, drift ${conditions.wavelengthDriftNm} nm`,
    'temperature K   rms %   bias %   coverage   half-width / rms',
  ]
  for (const summary of result.summaries) {
    lines.push(summary.condition)
    const row = (label: string, values: readonly [number, number, number, number]) => {
      const [r, b, c, w] = values
      lines.push(
        `${label.padStart(13)}${r.toFixed(3).padStart(8)}${b.toFixed(3).padStart(9)}${c
          .toFixed(3)
          .padStart(11)}${w.toFixed(2).padStart(19)}`,
      )
    }
    summary.temperatureK.forEach((kelvin, t) => {
      row(String(kelvin), [
        summary.rmsPercent[t]!,
        summary.biasPercent[t]!,
        summary.coverage95[t]!,
        summary.halfWidthOverRms[t]!,
      ])
    })
    const { rmsPercent, coverage95, halfWidthOverRms, refused } = summary.pooled
    row('all', [rmsPercent, mean(summary.biasPercent), coverage95, halfWidthOverRms])
    if (refused > 0) lines.push(`  refused: ${refused}`)
  }
  return lines.join('\n')
}
