import { responseFromReference } from '../../../src/estimate/spectrum/reference-response.ts'
import { temperatureFromSpectrum } from '../../../src/estimate/spectrum/temperature.ts'
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'
import type { Draft, DraftPhoto } from '../../../src/session/draft.ts'
import type { SpectrumBench } from '../../../src/sources/spectrum/spectrum-client.ts'

/** The worker's work without a worker. */
export const directBench = (): SpectrumBench => ({
  read: async ({ text, choices }) => importSpectra(text, choices),
  respond: async ({ recording, lamp, instrument }) =>
    responseFromReference(recording, lamp, instrument),
  measure: async (input) => temperatureFromSpectrum(input),
  close: () => undefined,
})

/** A draft in memory; values go through JSON as in the browser. */
export function memoryDraft(): Draft & { readonly held: Map<string, string> } {
  const held = new Map<string, string>()
  let photo: DraftPhoto | undefined
  return {
    held,
    store: async (name, value) => void held.set(name, JSON.stringify(value)),
    find: async (name) => {
      const text = held.get(name)
      return text === undefined ? undefined : JSON.parse(text)
    },
    storePhoto: async (given) => {
      photo = given
    },
    photo: async () => photo,
    discard: async () => held.clear(),
  }
}
