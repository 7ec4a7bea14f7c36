import { interpolate } from './interpolate.ts'
import { isPossibleLamp, logLampRadiance } from './lamp.ts'
import { netSignal } from './net-signal.ts'
import { noiseVariance } from './noise.ts'
import { recordedAs } from './same-instrument.ts'
import { smoothNoMoreThanNeeded } from './smoothing.ts'
import { findTrustedRange, judgeSamples } from './trusted-range.ts'
import type {
  Instrument,
  InstrumentResponse,
  Recording,
  SpectrumLamp,
  SpectrumRefusal,
} from './types.ts'

export type ResponseResult =
  | { readonly ok: true; readonly response: InstrumentResponse }
  | SpectrumRefusal

/** Stands for a quotient by no signal: finite, and beyond any use. */
const BEYOND_USE = 1e6
/** The glass of a lamp passes nothing below this, nm (common practice: soda-lime 320). */
const LAMP_GLASS_CUT_NM = 320

/**
 * The instrument's response from one spectrum of a lamp of known colour temperature: signal divided
 * by the lamp's theory, smoothed no more than needed, with the range in which it can be trusted.
 *
 * @param recording spectrum of the lamp and its dark
 * @returns the response (largest value 1), or why there is none
 */
export function responseFromLamp(
  recording: Recording,
  lamp: SpectrumLamp,
  instrument: Instrument,
): ResponseResult {
  if (!isPossibleLamp(lamp)) return { ok: false, code: 'lamp temperature out of range' }
  const signal = netSignal(recording, instrument, 'lamp')
  if (!(signal.peak > 0)) return { ok: false, code: 'no signal' }
  const { wavelengthNm, noise, peak, saturated, pedestal } = signal
  const net = signal.net.map((value) => value - pedestal.mean * peak)

  const logRadiance = logLampRadiance(lamp)
  // Relative to the middle of the spectrum, so that the quotient keeps an ordinary size.
  const reference = logRadiance(wavelengthNm[wavelengthNm.length >> 1]!)
  const radiance = wavelengthNm.map((nm) => Math.exp(logRadiance(nm) - reference))
  const sigma = net.map((value) => Math.sqrt(noiseVariance(noise, value)))
  const raw = net.map((value, i) => value / radiance[i]!)
  const smoothed = smoothNoMoreThanNeeded(
    wavelengthNm,
    raw,
    sigma.map((value, i) => value / radiance[i]!),
  )

  const model = smoothed.value.map((value, i) => value * radiance[i]!)
  const smoothedNoise = Array.from(model, (value, i) =>
    quotient(smoothed.sigma[i]! * radiance[i]!, value),
  )
  const lampPeakOverSignal = Array.from(model, (value) => quotient(peak, value))
  const verdicts = judgeSamples({
    wavelengthNm,
    response: smoothed.value,
    noise: smoothedNoise,
    strayShare: lampPeakOverSignal.map((ratio) => pedestal.standardUncertainty * ratio),
    secondOrderShare: secondOrderShares(
      wavelengthNm,
      net,
      model,
      logRadiance,
      instrument.secondOrderShare,
    ),
    saturated,
  })
  const range = findTrustedRange(wavelengthNm, verdicts)
  if (range === null) return { ok: false, code: 'no trusted range' }

  let largest = 0
  smoothed.value.forEach((value, i) => {
    if (verdicts[i] === null) largest = Math.max(largest, value)
  })
  return {
    ok: true,
    response: {
      wavelengthNm: [...wavelengthNm],
      response: Array.from(smoothed.value, (value) => Math.max(0, value / largest)),
      rawNoise: Array.from(model, (value, i) => quotient(sigma[i]!, value)),
      smoothedNoise,
      smoothingNm: [...smoothed.halfWidthNm],
      lampPeakOverSignal,
      lamp,
      recordedAs: recordedAs(recording.spectrum),
      instrument,
      pedestal,
      range,
      findings: signal.findings,
    },
  }
}

function quotient(value: number, by: number): number {
  return by > 0 ? Math.min(BEYOND_USE, value / by) : BEYOND_USE
}

/**
 * Upper bound of the share that light at half the wavelength adds. Below the instrument's own
 * range the lamp's theory goes on from the first sample.
 */
function secondOrderShares(
  wavelengthNm: Float64Array,
  net: Float64Array,
  model: Float64Array,
  logRadiance: (wavelengthNm: number) => number,
  efficiency: number,
): Float64Array {
  const first = wavelengthNm[0]!
  return wavelengthNm.map((nm, i) => {
    const half = nm / 2
    if (half < LAMP_GLASS_CUT_NM || efficiency === 0) return 0
    const below = half < first ? Math.exp(logRadiance(half) - logRadiance(first)) : 1
    const there = Math.max(0, interpolate(wavelengthNm, half < first ? net : model, half)) * below
    return model[i]! > 0 ? (efficiency * there) / model[i]! : 1
  })
}
