/**
 * What a kit item of kind `response` holds, as a schema: items also come from files, and what is not
 * as it should be must not reach the estimate.
 */
import * as v from 'valibot'
import type { InstrumentResponse, WavelengthRange } from '../../estimate/spectrum/types.ts'
import type { KitItem } from '../../log/types.ts'

const number = v.pipe(v.number(), v.finite())
const positive = v.pipe(number, v.gtValue(0))
const share = v.pipe(number, v.minValue(0))
const numbers = v.pipe(v.array(number), v.minLength(8))
const range = v.object({ fromNm: positive, toNm: positive })
const reason = v.picklist([
  'end of data',
  'noise',
  'stray light',
  'steep edge',
  'second order',
  'saturated',
  'set by hand',
])

const response = v.pipe(
  v.looseObject({
    wavelengthNm: numbers,
    response: numbers,
    rawNoise: numbers,
    smoothedNoise: numbers,
    smoothingNm: numbers,
    lampPeakOverSignal: numbers,
    lamp: v.object({
      emitter: v.picklist(['tungsten', 'black body']),
      colourTemperatureK: positive,
      standardUncertaintyK: share,
    }),
    instrument: v.object({
      strayShare: share,
      wavelengthUncertaintyNm: share,
      wavelengthDriftNm: share,
      nonlinearity: share,
      secondOrderShare: share,
      saturationLevel: v.nullable(number),
    }),
    pedestal: v.object({ mean: number, standardUncertainty: positive }),
    range: v.object({
      ...range.entries,
      shortEnd: reason,
      longEnd: reason,
      excluded: v.array(v.object({ fromNm: positive, toNm: positive, reason })),
    }),
    findings: v.array(v.looseObject({ code: v.string() })),
  }),
  v.check(({ wavelengthNm, ...rest }) => {
    const columns = [
      rest.response,
      rest.rawNoise,
      rest.smoothedNoise,
      rest.smoothingNm,
      rest.lampPeakOverSignal,
    ]
    return (
      columns.every((column) => column.length === wavelengthNm.length) &&
      wavelengthNm.every((nm, i) => i === 0 || nm > wavelengthNm[i - 1]!)
    )
  }, 'columns do not fit together'),
)

const responseData = v.looseObject({ response, range: v.nullable(range) })

export interface KeptResponse {
  readonly item: KitItem
  readonly response: InstrumentResponse
  /** Set by the person instead of the range found. */
  readonly range: WavelengthRange | null
}

/** Responses of the kit, newest first; what does not fit is left out. */
export function keptResponses(items: readonly KitItem[]): KeptResponse[] {
  return items.flatMap((item) => {
    if (item.kind !== 'response') return []
    const parsed = v.safeParse(responseData, item.data)
    if (!parsed.success) return []
    const { output } = parsed
    return [{ item, response: output.response as InstrumentResponse, range: output.range }]
  })
}
