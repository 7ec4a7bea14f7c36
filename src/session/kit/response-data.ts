/**
 * What a kit item of kind `response` holds, as a schema: items also come from files, and what is not
 * as it should be must not reach the estimate.
 */
import * as v from 'valibot'
import * as q from '../../log/schema/quantities.ts'

const numbersOf = <Of extends v.GenericSchema<number>>(of: Of) =>
  v.pipe(v.array(of), v.minLength(8))
export const nmRange = v.object({ fromNm: q.wavelengthNm, toNm: q.wavelengthNm })
export const spectrumSurface = v.object({
  spectral: v.picklist(['grey', 'tungsten']),
  lnGreenOverRed: q.lnSlope,
  standardUncertainty: q.lnUncertainty,
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
    wavelengthNm: numbersOf(q.wavelengthNm),
    response: numbersOf(q.signal),
    rawNoise: numbersOf(q.signal),
    smoothedNoise: numbersOf(q.signal),
    smoothingNm: numbersOf(q.nmUncertainty),
    lampPeakOverSignal: numbersOf(q.signal),
    lamp: v.variant('emitter', [
      v.object({
        emitter: v.picklist(['tungsten', 'black body']),
        colourTemperatureK: q.colourTemperatureK,
        standardUncertaintyK: q.uncertaintyK,
      }),
      v.object({
        emitter: v.literal('surface'),
        surface: spectrumSurface,
        temperatureK: q.temperatureK,
        standardUncertaintyK: q.uncertaintyK,
      }),
      v.object({
        emitter: v.literal('calibration'),
        quantity: v.picklist(['power', 'photons']),
      }),
    ]),
    recordedAs: v.optional(
      v.object({
        heading: v.nullable(v.pipe(v.string(), v.maxLength(400))),
        integration: v.optional(v.pipe(v.string(), v.maxLength(400))),
        largest: q.signal,
      }),
    ),
    instrument: v.object({
      strayShare: q.share,
      wavelengthUncertaintyNm: q.nmUncertainty,
      wavelengthDriftNm: q.nmUncertainty,
      nonlinearity: q.share,
      secondOrderShare: q.share,
      saturationLevel: v.nullable(q.signal),
    }),
    pedestal: v.object({ mean: q.signal, standardUncertainty: q.signalUncertainty }),
    range: v.object({
      ...nmRange.entries,
      shortEnd: reason,
      longEnd: reason,
      excluded: v.array(v.object({ ...nmRange.entries, reason })),
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
  }, 'wavelengthNm does not rise, or a column is not as long'),
)

export const responseData = v.looseObject({
  response: instrumentResponse,
  range: v.nullable(nmRange),
})
