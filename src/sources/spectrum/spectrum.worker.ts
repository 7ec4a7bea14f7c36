import { responseFromReference } from '../../estimate/spectrum/reference-response.ts'
import { temperatureFromSpectrum } from '../../estimate/spectrum/temperature.ts'
import { importSpectra } from '../../light/spectrum-import/import-spectra.ts'
import { answerCalls } from '../worker-answers.ts'
import type { SpectrumOperations } from './spectrum-operations.ts'
import { warmUp } from './warm-up.ts'

answerCalls<SpectrumOperations>({
  read: async ({ text, choices }) => importSpectra(text, choices),
  respond: async ({ recording, lamp, instrument }) =>
    responseFromReference(recording, lamp, instrument),
  measure: async (input) => temperatureFromSpectrum(input),
})
warmUp()
