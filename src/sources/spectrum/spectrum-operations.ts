import type { ResponseResult } from '../../estimate/spectrum/response.ts'
import type { SpectrumInput, SpectrumTemperature } from '../../estimate/spectrum/temperature.ts'
import type {
  Instrument,
  Recording,
  SpectrumLamp,
  SpectrumRefusal,
} from '../../estimate/spectrum/types.ts'
import type { ImportChoices, ImportResult } from '../../light/spectrum-import/result.ts'

/** What the worker of spectra answers. */
export type SpectrumOperations = {
  read: readonly [{ readonly text: string; readonly choices: ImportChoices }, ImportResult]
  respond: readonly [
    {
      readonly recording: Recording
      readonly lamp: SpectrumLamp
      readonly instrument: Instrument
    },
    ResponseResult,
  ]
  measure: readonly [SpectrumInput, SpectrumTemperature | SpectrumRefusal]
}
