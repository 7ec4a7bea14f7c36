import type { SpectrumLamp } from '../../estimate/spectrum/types.ts'
import { planckRadiance } from '../../physics/planck.ts'
import { tungstenSpectralEmissivity, tungstenTrueFromColour } from '../../physics/tungsten.ts'

/** A file of the practice job. */
export interface PracticeFile {
  readonly name: string
  readonly text: string
}

export interface PracticeSpectra {
  readonly lamp: PracticeFile
  readonly glow: PracticeFile
  /** True temperature of the glow, a black cavity, K. */
  readonly truthK: number
}

/** What the person is told of the lamp. */
export const PRACTICE_LAMP: SpectrumLamp = {
  emitter: 'tungsten',
  colourTemperatureK: 2700,
  standardUncertaintyK: 40,
}
/** What the lamp really is: off its rating, as lamps are. */
const LAMP_TRUE_COLOUR_K = 2722
const GLOW_K = 1423.15

const FIRST_NM = 380
const LAST_NM = 950
const SAMPLES = 1024
/** Counts: dark level, largest signal above it, electrons that it stands for, scans averaged. */
const DARK_COUNTS = 1200
const PEAK_COUNTS = 48_000
const PEAK_ELECTRONS = 40_000
const READ_ELECTRONS = 30
const SCANS = 4
/** Even stray light over the largest signal, and what the wavelength scale is off by, nm. */
const STRAY = 0.0008
const SCALE_ERROR_NM = 0.2
const SEED = 2

/**
 * Two recordings of an invented spectrometer, each with its dark: a filament lamp and a kiln's
 * peephole. Simulated: Planck's law, tungsten's emissivity, a made-up response with an infrared
 * edge, stray light and noise; the same text each time.
 */
export function practiceSpectra(): PracticeSpectra {
  const random = seededRandom(SEED)
  const filamentK = tungstenTrueFromColour(LAMP_TRUE_COLOUR_K)
  const lamp = (nm: number) =>
    planckRadiance(nm * 1e-9, filamentK) * tungstenSpectralEmissivity(nm, filamentK)
  const glow = (nm: number) => planckRadiance(nm * 1e-9, GLOW_K)
  return {
    lamp: { name: 'lamp (simulated).csv', text: recorded('Lamp', lamp, random) },
    glow: { name: 'glow (simulated).csv', text: recorded('Glow', glow, random) },
    truthK: GLOW_K,
  }
}

/** Response of the invented instrument: broad, with a filter that cuts off the infrared. */
function responseAt(nm: number): number {
  const broad = Math.exp(-0.5 * ((nm - 560) / 130) ** 2)
  const shortEdge = 1 / (1 + Math.exp((400 - nm) / 6))
  const infraredCut = 1 / (1 + Math.exp((nm - 860) / 7))
  return broad * shortEdge * infraredCut
}

function recorded(name: string, radiance: (nm: number) => number, random: () => number): string {
  const step = (LAST_NM - FIRST_NM) / (SAMPLES - 1)
  const grid = Array.from({ length: SAMPLES }, (_, i) => FIRST_NM + i * step)
  const clean = grid.map((nm) => responseAt(nm) * radiance(nm + SCALE_ERROR_NM))
  const largest = Math.max(...clean)
  const electronsPerCount = PEAK_ELECTRONS / PEAK_COUNTS
  const counts = (share: number) => {
    const variance = (share * PEAK_ELECTRONS + READ_ELECTRONS ** 2) / SCANS
    const noise = (normal(random) * Math.sqrt(variance)) / electronsPerCount
    return (DARK_COUNTS + share * PEAK_COUNTS + noise).toFixed(2)
  }
  const rows = grid.map(
    (nm, i) => `${nm.toFixed(3)};${counts(clean[i]! / largest + STRAY)};${counts(0)}`,
  )
  return [
    'Simulated: an invented instrument and invented light',
    `Scans averaged: ${SCANS}`,
    `Wavelength (nm);${name};Dark`,
    ...rows,
    '',
  ].join('\n')
}

/** Mulberry32 (public domain): the same numbers each time. */
function seededRandom(seed: number): () => number {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = Math.imul(state ^ (state >>> 15), state | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/** Standard normal by Box and Muller. */
function normal(random: () => number): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}
