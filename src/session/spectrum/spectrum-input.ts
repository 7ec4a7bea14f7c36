import { surfaceFromMaterial } from '../../estimate/spectrum/surface.ts'
import type { SpectrumInput } from '../../estimate/spectrum/temperature.ts'
import type {
  InstrumentResponse,
  Recording,
  SpectrumSurface,
  SpectrumWindow,
  WavelengthRange,
} from '../../estimate/spectrum/types.ts'
import { UNKNOWN_SLOPE_UNCERTAINTY } from '../../physics/emissivity.ts'

/** A surface of which nothing is known: grey, widely. */
const UNKNOWN_SURFACE: SpectrumSurface = {
  spectral: 'grey',
  lnGreenOverRed: 0,
  standardUncertainty: UNKNOWN_SLOPE_UNCERTAINTY,
}

/** Puts together everything that one temperature rests on. */
export function spectrumInput(said: {
  readonly recording: Recording
  readonly response: InstrumentResponse
  readonly others: readonly InstrumentResponse[]
  readonly materialId: string
  readonly window: SpectrumWindow | null
  readonly range: WavelengthRange | null
  readonly ratioNm: readonly [number, number]
  readonly statedGlow: boolean
}): SpectrumInput {
  return {
    recording: said.recording,
    response: said.response,
    ...(said.others.length > 0 ? { others: said.others } : {}),
    surface: surfaceFromMaterial(said.materialId) ?? UNKNOWN_SURFACE,
    window: said.window,
    range: said.range,
    ratioNm: said.ratioNm,
    ...(said.statedGlow ? { statedGlow: true } : {}),
  }
}
