/** Made-up recordings and responses for the tests of this folder. */
import { responseFromLamp } from '../../../src/estimate/spectrum/response.ts'
import { KNOWN_GREY } from '../../../src/estimate/spectrum/surface.ts'
import {
  type SpectrumInput,
  type SpectrumTemperature,
  temperatureFromSpectrum,
} from '../../../src/estimate/spectrum/temperature.ts'
import {
  type ColourTemperatureSource,
  type InstrumentResponse,
  type Recording,
  type SpectrumLamp,
  USUAL_INSTRUMENT,
} from '../../../src/estimate/spectrum/types.ts'
import {
  INSTRUMENTS,
  PERFECT_CONDITIONS,
  planck,
  type Radiance,
  SimulatedDay,
  type SimulatedInstrument,
  seededRandom,
  USUAL_CONDITIONS,
} from '../../accuracy/spectrum-simulation.ts'

/** A lamp whose temperature is certain: what is tested is the arithmetic. */
export const CERTAIN_LAMP: ColourTemperatureSource = {
  emitter: 'black body',
  colourTemperatureK: 2800,
  standardUncertaintyK: 0,
}
export const NO_STRAY = { ...USUAL_INSTRUMENT, strayShare: 0, secondOrderShare: 0 }

/** Light through an instrument without fault, noise, bandwidth or dark. */
export function perfect(light: Radiance, instrument: SimulatedInstrument = INSTRUMENTS[0]!) {
  const sharp = { ...instrument, bandwidthNm: 1e-6, secondOrder: 0 }
  return new SimulatedDay(sharp, PERFECT_CONDITIONS, seededRandom(1)).record(light)
}

/** Light and lamp through an instrument with its usual faults, on one day. */
export function usual(
  light: Radiance,
  seed = 21,
  instrument: SimulatedInstrument = INSTRUMENTS[0]!,
): { readonly recording: Recording; readonly response: InstrumentResponse } {
  const day = new SimulatedDay(instrument, USUAL_CONDITIONS, seededRandom(seed))
  const lamp = day.record(planck(CERTAIN_LAMP.colourTemperatureK))
  return {
    recording: day.record(light),
    response: responseOf(lamp, { ...CERTAIN_LAMP, standardUncertaintyK: 20 }, USUAL_INSTRUMENT),
  }
}

export function responseOf(
  recording: Recording,
  lamp: SpectrumLamp = CERTAIN_LAMP,
  instrument = NO_STRAY,
): InstrumentResponse {
  const result = responseFromLamp(recording, lamp, instrument)
  if (!result.ok) throw new Error(result.code)
  return result.response
}

export function perfectResponse(instrument: SimulatedInstrument = INSTRUMENTS[0]!) {
  return responseOf(perfect(planck(CERTAIN_LAMP.colourTemperatureK), instrument))
}

/** The temperature, with everything not given at its plainest. */
export function read(
  input: Pick<SpectrumInput, 'recording' | 'response'> & Partial<SpectrumInput>,
): SpectrumTemperature {
  const result = temperatureFromSpectrum({
    surface: KNOWN_GREY,
    window: null,
    range: null,
    ratioNm: null,
    statedGlow: true,
    ...input,
  })
  if (!result.ok) throw new Error(result.code)
  return result
}
