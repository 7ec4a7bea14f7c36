import * as v from 'valibot'
import type { SpectrumInput } from '../../estimate/spectrum/temperature.ts'
import * as q from '../../log/schema/quantities.ts'
import type { Json } from '../../log/schema/types.ts'
import { instrumentResponse, nmRange, spectrumSurface } from '../kit/response-data.ts'
import { storing } from '../stored-shape.ts'

/**
 * The inputs of a spectrum reading as the log keeps them. Readings also come from files: what is not
 * as it should be must not reach the estimate.
 */
const name = v.pipe(v.string(), v.maxLength(400))

const rising = (values: readonly number[]) =>
  values.every((value, i) => i === 0 || value > values[i - 1]!)
const spectrum = v.pipe(
  v.object({
    name: v.nullable(name),
    wavelengthNm: v.array(q.wavelengthNm),
    signal: v.array(q.signal),
    integration: v.optional(name),
  }),
  v.check(
    ({ wavelengthNm, signal }) =>
      wavelengthNm.length > 0 && wavelengthNm.length === signal.length && rising(wavelengthNm),
  ),
)

export const spectrumShape = storing<SpectrumInput>()(
  v.object({
    recording: v.object({ spectrum, dark: v.nullable(spectrum) }),
    response: instrumentResponse,
    others: v.optional(v.array(instrumentResponse)),
    surface: spectrumSurface,
    statedGlow: v.optional(v.boolean()),
    // Whether it is usable the estimate says itself.
    window: v.nullable(
      v.object({
        wavelengthNm: v.array(q.wavelengthNm),
        transmittance: v.array(q.light),
        standardUncertainty: q.lnUncertainty,
        transmittanceUncertainty: v.optional(q.lnUncertainty),
      }),
    ),
    range: v.nullable(nmRange),
    ratioNm: v.nullable(v.tuple([q.wavelengthNm, q.wavelengthNm])),
    responseId: v.optional(name, ''),
    tableName: v.optional(v.nullable(name), null),
  }),
)

/** With what readings of the same cause share: the response, and the table of the window. */
export type StoredSpectrum = SpectrumInput & {
  readonly responseId: string
  readonly tableName: string | null
}

/** Null where a spectrum cannot be computed from it. */
export function storedSpectrum(inputs: Json): StoredSpectrum | null {
  const parsed = v.safeParse(spectrumShape, inputs)
  // The schema leaves the findings' details open.
  return parsed.success ? (parsed.output as StoredSpectrum) : null
}
