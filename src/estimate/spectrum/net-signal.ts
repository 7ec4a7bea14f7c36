import { resample, sameGrid } from './interpolate.ts'
import { estimateNoise, type NoiseModel } from './noise.ts'
import { pedestalPrior } from './pedestal.ts'
import { saturatedSamples } from './saturation.ts'
import type { Instrument, PedestalPrior, Recording, SpectrumFinding } from './types.ts'

/** A recording with the dark taken off. */
export interface NetSignal {
  readonly wavelengthNm: Float64Array
  readonly net: Float64Array
  readonly noise: NoiseModel
  readonly saturated: Uint8Array
  /** Largest net signal, above zero; 0 when there is none. */
  readonly peak: number
  readonly pedestal: PedestalPrior
  readonly findings: readonly SpectrumFinding[]
}

/**
 * Light minus dark, with noise, saturation and what is left uncertain about the zero.
 *
 * @param darkTaken the instrument itself took the dark off
 */
export function netSignal(
  recording: Recording,
  instrument: Instrument,
  of: 'lamp' | 'glow',
  darkTaken = false,
): NetSignal {
  const { spectrum, dark } = recording
  const findings: SpectrumFinding[] = []
  const wavelengthNm = new Float64Array(spectrum.wavelengthNm)
  const count = wavelengthNm.length
  const net = new Float64Array(spectrum.signal)
  if (dark === null && !darkTaken) {
    findings.push({ code: 'no dark spectrum', of })
  } else if (dark !== null) {
    const grid = dark.wavelengthNm
    const onGrid = sameGrid(grid, wavelengthNm)
      ? dark.signal
      : resample(grid, dark.signal, wavelengthNm)
    for (let i = 0; i < count; i++) net[i] = net[i]! - onGrid[i]!
    const step = (wavelengthNm[count - 1]! - wavelengthNm[0]!) / Math.max(1, count - 1)
    if (
      grid[0]! > wavelengthNm[0]! + 2 * step ||
      grid[grid.length - 1]! < wavelengthNm[count - 1]! - 2 * step
    ) {
      findings.push({ code: 'dark does not cover', of })
    }
  }

  const saturated = saturatedSamples(spectrum, instrument.saturationLevel)
  const first = saturated.indexOf(1)
  if (first >= 0) {
    const last = saturated.lastIndexOf(1)
    findings.push({
      code: 'saturated',
      of,
      fromNm: wavelengthNm[first]!,
      toNm: wavelengthNm[last]!,
    })
  }

  const sorted = net.toSorted()
  const peak = Math.max(0, sorted[count - 1] ?? 0)
  const median = sorted[count >> 1] ?? 0
  if (dark !== null && median < 0 && -sorted[0]! > peak) {
    findings.push({ code: 'dark brighter than light', of })
  }
  const noise = estimateNoise(wavelengthNm, net)
  return {
    wavelengthNm,
    net,
    noise,
    saturated,
    peak,
    pedestal: pedestalPrior(
      net,
      peak || 1,
      instrument.strayShare,
      dark !== null || darkTaken,
      noise,
    ),
    findings,
  }
}
