/**
 * What a kit item of kind `response` holds, as a schema: items also come from files, and what is not
 * as it should be must not reach the estimate.
 */
import * as v from 'valibot'

const number = v.pipe(v.number(), v.finite())
const positive = v.pipe(number, v.gtValue(0))
const share = v.pipe(number, v.minValue(0))
const numbers = v.pipe(v.array(number), v.minLength(8))
export const nmRange = v.object({ fromNm: positive, toNm: positive })
export const spectrumSurface = v.object({
  spectral: v.picklist(['grey', 'tungsten']),
  lnGreenOverRed: number,
  standardUncertainty: share,
})
const reason = v.picklist([
  'end of data',
  'noise',
  'stray light',
  'steep edge',
  'second order',
  'saturated',
  'glass',
  'set by hand',
])

export const instrumentResponse = v.pipe(
  v.looseObject({
    wavelengthNm: numbers,
    response: numbers,
    rawNoise: numbers,
    smoothedNoise: numbers,
    smoothingNm: numbers,
    lampPeakOverSignal: numbers,
    lamp: v.variant('emitter', [
      v.object({
        emitter: v.picklist(['tungsten', 'black body']),
        colourTemperatureK: positive,
        standardUncertaintyK: share,
      }),
      v.object({
        emitter: v.literal('surface'),
        surface: spectrumSurface,
        temperatureK: positive,
        standardUncertaintyK: share,
      }),
      v.object({
        emitter: v.literal('calibration'),
        quantity: v.picklist(['power', 'photons']),
      }),
    ]),
    recordedAs: v.optional(
      v.object({ heading: v.nullable(v.pipe(v.string(), v.maxLength(400))), largest: number }),
    ),
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
      ...nmRange.entries,
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

export const responseData = v.looseObject({
  response: instrumentResponse,
  range: v.nullable(nmRange),
})
