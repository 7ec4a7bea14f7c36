/**
 * Made-up spectrometers that record lamps and glows, for benches and tests. Their light is computed
 * from the closed form of Planck's law here, not by the code under test.
 */

import type { Recording } from '../../src/estimate/spectrum/types.ts'
import type { Spectrum } from '../../src/light/spectrum-import/spectrum.ts'

export type Random = () => number

/** A small generator with a seed (Mulberry32, public domain): benches repeat exactly. */
export function seededRandom(seed: number): Random {
  let state = seed >>> 0
  return () => {
    state = (state + 0x6d2b79f5) >>> 0
    let t = Math.imul(state ^ (state >>> 15), state | 1)
    t ^= t + Math.imul(t ^ (t >>> 7), t | 61)
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296
  }
}

/** Standard normal by Box and Muller. */
export function normal(random: Random): number {
  return Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
}

export interface SimulatedInstrument {
  readonly name: string
  readonly fromNm: number
  readonly toNm: number
  readonly samples: number
  readonly bandwidthNm: number
  /** Share of the light at half the wavelength that is added. */
  readonly secondOrder: number
  readonly response: (nm: number) => number
}

const bump = (nm: number, centre: number, width: number) =>
  Math.exp(-0.5 * ((nm - centre) / width) ** 2)
/** 1 on the long side of an edge; 10 to 90 % over 4.4 widths. */
const edge = (nm: number, at: number, width: number) => 1 / (1 + Math.exp((at - nm) / width))

/** Four invented responses of common shape. */
export const INSTRUMENTS: readonly SimulatedInstrument[] = [
  {
    name: 'broad silicon, order filter',
    fromNm: 340,
    toNm: 1020,
    samples: 2048,
    bandwidthNm: 1.5,
    secondOrder: 0,
    response: (nm) => bump(nm, 560, 170) * edge(nm, 365, 8),
  },
  {
    name: 'colour sensor, steep infrared cut',
    fromNm: 380,
    toNm: 760,
    samples: 2048,
    bandwidthNm: 2,
    secondOrder: 0.05,
    response: (nm) =>
      (0.5 * bump(nm, 460, 26) + bump(nm, 535, 34) + 0.7 * bump(nm, 605, 36)) *
        (1 - edge(nm, 660, 3)) +
      1e-4,
  },
  {
    name: 'thinned array with fringes',
    fromNm: 350,
    toNm: 900,
    samples: 1024,
    bandwidthNm: 1.2,
    secondOrder: 0,
    response: (nm) =>
      (0.25 + bump(nm, 480, 140)) *
      (1 + 0.05 * edge(nm, 640, 30) * Math.sin((2 * Math.PI * 6.5e4) / nm)) *
      edge(nm, 372, 6),
  },
  {
    name: 'coarse, no order filter',
    fromNm: 390,
    toNm: 860,
    samples: 512,
    bandwidthNm: 4,
    secondOrder: 0.05,
    response: (nm) => 0.15 + bump(nm, 640, 110),
  },
]

export interface Conditions {
  /** Electrons at the largest signal: shot noise, signal to noise = its root. */
  readonly peakElectrons: number
  readonly readElectrons: number
  /** Scans averaged. */
  readonly scans: number
  /** Standard deviations of what differs from draw to draw; as in the instrument's own statement. */
  readonly strayShare: number
  readonly nonlinearity: number
  readonly wavelengthUncertaintyNm: number
  readonly wavelengthDriftNm: number
  /** Smooth departure of a recording from response times light, so that two differ by this, rms. */
  readonly shapeError: number
}

export const USUAL_CONDITIONS: Conditions = {
  peakElectrons: 40_000,
  readElectrons: 30,
  scans: 4,
  strayShare: 0.001,
  nonlinearity: 0.005,
  wavelengthUncertaintyNm: 0.3,
  wavelengthDriftNm: 0.05,
  shapeError: 0,
}

/** No noise, no faults: what theory must give back exactly. */
export const PERFECT_CONDITIONS: Conditions = {
  peakElectrons: Number.POSITIVE_INFINITY,
  readElectrons: 0,
  scans: 1,
  strayShare: 0,
  nonlinearity: 0,
  wavelengthUncertaintyNm: 0,
  wavelengthDriftNm: 0,
  shapeError: 0,
}

export type Radiance = (nm: number) => number

/** Waves that make up a smooth departure. */
const WAVES = 24
/** Lengths over which departures go together, nm; each draw has its own. */
const SHAPE_LENGTHS_NM: readonly [number, number] = [40, 250]

/**
 * A smooth function of wavelength with mean 0 and a given root mean square over all draws: a normal
 * process with a squared exponential covariance of random length, by random waves.
 * Source: Rahimi & Recht 2007 (random Fourier features).
 */
export function smoothDeparture(rms: number, random: Random): (nm: number) => number {
  if (rms === 0) return () => 0
  const [least, most] = SHAPE_LENGTHS_NM
  const lengthNm = least * (most / least) ** random()
  const waves = Array.from({ length: WAVES }, () => ({
    frequency: normal(random) / lengthNm,
    phase: 2 * Math.PI * random(),
    size: rms * normal(random) * Math.sqrt(2 / WAVES),
  }))
  return (nm) =>
    waves.reduce((sum, wave) => sum + wave.size * Math.cos(wave.frequency * nm + wave.phase), 0)
}

/** Planck's law up to a constant, from its closed form. */
export const planck =
  (kelvin: number): Radiance =>
  (nm) =>
    nm ** -5 / Math.expm1(1.4387768775e7 / (nm * kelvin))

/** One day with one instrument: its faults stay the same while lamp and glow are recorded. */
export class SimulatedDay {
  private readonly stray: number
  private readonly bend: number
  private readonly shiftNm: number

  constructor(
    private readonly instrument: SimulatedInstrument,
    private readonly conditions: Conditions,
    private readonly random: Random,
  ) {
    // Stray light only adds; a half-normal has the stated root mean square.
    this.stray = Math.abs(normal(random)) * conditions.strayShare
    this.bend = normal(random) * conditions.nonlinearity
    this.shiftNm = normal(random) * conditions.wavelengthUncertaintyNm
  }

  /** Largest signal at 80 % of a 16-bit converter, dark level at 1200. */
  record(light: Radiance): Recording {
    const { instrument, conditions, random } = this
    const shift = this.shiftNm + normal(random) * conditions.wavelengthDriftNm
    const step = (instrument.toNm - instrument.fromNm) / (instrument.samples - 1)
    const grid = Array.from(
      { length: instrument.samples },
      (_, i) => Math.round(1e4 * (instrument.fromNm + i * step)) / 1e4,
    )
    const detected = (nm: number) =>
      instrument.response(nm) * light(nm) +
      (instrument.secondOrder > 0 ? instrument.secondOrder * this.passed(light, nm / 2) : 0)
    const departure = smoothDeparture(conditions.shapeError / Math.SQRT2, random)
    const clean = grid.map(
      (nm) => blurred(detected, nm + shift, instrument.bandwidthNm) * Math.exp(departure(nm)),
    )
    const peak = Math.max(...clean)
    const finite = Number.isFinite(conditions.peakElectrons)
    // The pedestal's level differs between recordings, not between samples.
    const pedestal = this.stray * (1 + 0.3 * normal(random))
    const level16 = (value: number) => {
      const share = value / peak + pedestal
      return 52_000 * share * (1 + this.bend * share)
    }
    const perElectron = finite ? 52_000 / conditions.peakElectrons : 0
    const noisy = (level: number) => {
      if (!finite) return level
      const electrons = Math.max(0, level) / perElectron
      const sigma = Math.sqrt((electrons + conditions.readElectrons ** 2) / conditions.scans)
      const value = level + 1200 + perElectron * sigma * normal(random)
      return Math.min(65_535, Math.round(value * conditions.scans) / conditions.scans)
    }
    const spectrum: Spectrum = {
      name: null,
      wavelengthNm: grid,
      signal: clean.map((value) => noisy(level16(value))),
    }
    return {
      spectrum,
      dark: finite
        ? { name: null, wavelengthNm: grid, signal: grid.map(() => noisy(0)) }
        : { name: null, wavelengthNm: grid, signal: grid.map(() => 0) },
    }
  }

  /** Light below 320 nm does not pass the glass of the optics. */
  private passed(light: Radiance, nm: number): number {
    return nm < 320 ? 0 : this.instrument.response(Math.max(nm, 320)) * light(nm)
  }
}

/** Mean over a triangular slit function of the given full width at half maximum. */
function blurred(value: (nm: number) => number, nm: number, widthNm: number): number {
  let sum = 0
  let weights = 0
  for (let k = -3; k <= 3; k++) {
    const weight = 1 - Math.abs(k) / 4
    sum += weight * value(nm + (k / 4) * widthNm)
    weights += weight
  }
  return sum / weights
}

/** As comma-separated text, the way an instrument might write it. */
export function writtenAsText({ wavelengthNm, signal }: Spectrum): string {
  return `wavelength (nm),counts\n${wavelengthNm.map((nm, i) => `${nm},${signal[i]}`).join('\n')}\n`
}
