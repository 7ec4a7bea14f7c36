import { responseFromLamp } from '../../estimate/spectrum/response.ts'
import { KNOWN_GREY } from '../../estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../estimate/spectrum/temperature.ts'
import { USUAL_INSTRUMENT } from '../../estimate/spectrum/types.ts'
import { importSpectra } from '../../light/spectrum-import/import-spectra.ts'
import { PRACTICE_LAMP, practiceSpectra } from '../practice/practice-spectra.ts'

const ROUNDS = 3

/**
 * Computes the practice spectra once and drops the result: the first run of cold code takes a phone
 * several times as long as the next ones, and a person is choosing a file meanwhile.
 */
export function warmUp(): void {
  const { lamp, glow } = practiceSpectra()
  for (let round = 0; round < ROUNDS; round++) {
    const ofLamp = importSpectra(lamp.text)
    const ofGlow = importSpectra(glow.text)
    if (!ofLamp.ok || !ofGlow.ok) return
    const recordingOf = ({ spectra }: typeof ofLamp) => ({
      spectrum: spectra[0]!,
      dark: spectra[1] ?? null,
    })
    const found = responseFromLamp(recordingOf(ofLamp), PRACTICE_LAMP, USUAL_INSTRUMENT)
    if (!found.ok) return
    temperatureFromSpectrum({
      recording: recordingOf(ofGlow),
      response: found.response,
      surface: { ...KNOWN_GREY, standardUncertainty: 0.05 },
      window: null,
      range: null,
      ratioNm: [550, 650],
    })
  }
}
