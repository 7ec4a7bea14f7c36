import { responseFromCalibration } from './calibration.ts'
import { type ResponseResult, responseFromLamp } from './response.ts'
import type { Instrument, Recording, SpectrumLamp } from './types.ts'

/**
 * The response of an instrument from whatever it rests on.
 *
 * @param recording of the reference; of the glow itself where the file is calibrated
 */
export function responseFromReference(
  recording: Recording,
  lamp: SpectrumLamp,
  instrument: Instrument,
): ResponseResult {
  return lamp.emitter === 'calibration'
    ? responseFromCalibration(recording, lamp, instrument)
    : responseFromLamp(recording, lamp, instrument)
}
