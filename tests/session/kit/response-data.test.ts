import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import type { SpectrumInput } from '../../../src/estimate/spectrum/temperature.ts'
import { responseData } from '../../../src/session/kit/response-data.ts'
import { storedSpectrum } from '../../../src/session/log/stored-spectrum.ts'
import { savedSpectrum } from '../log/saved-spectrum.ts'

const inputs = savedSpectrum().inputs as unknown as SpectrumInput
const { response, recording } = inputs
const last = response.wavelengthNm.length - 1

/** Whether the kit takes it as a response. */
const fits = (change: object) =>
  v.is(responseData, { response: { ...response, ...change }, range: null })

describe('a response that comes from a file', () => {
  test('is by any reference that there is, with its own numbers', () => {
    const measured = { temperatureK: 1500, standardUncertaintyK: 5 }
    const coloured = { colourTemperatureK: 2700, standardUncertaintyK: 40 }
    for (const lamp of [
      { emitter: 'tungsten', ...coloured },
      { emitter: 'black body', ...coloured },
      { emitter: 'surface', surface: inputs.surface, ...measured },
      { emitter: 'surface', surface: { ...inputs.surface, spectral: 'tungsten' }, ...measured },
      { emitter: 'calibration', quantity: 'power' },
      { emitter: 'calibration', quantity: 'photons' },
    ])
      expect(fits({ lamp }), JSON.stringify(lamp)).toBe(true)
    for (const lamp of [
      { emitter: 'sun', ...coloured },
      { emitter: 'tungsten', ...measured },
      { emitter: 'surface', ...measured },
      { emitter: 'calibration', quantity: 'lumens' },
      { emitter: 'calibration' },
    ])
      expect(fits({ lamp }), JSON.stringify(lamp)).toBe(false)
  })

  test('has columns as long as its wavelengths, which rise', () => {
    for (const column of [
      'response',
      'rawNoise',
      'smoothedNoise',
      'smoothingNm',
      'lampPeakOverSignal',
    ] as const)
      expect(fits({ [column]: response[column].slice(1) }), column).toBe(false)
    const { wavelengthNm } = response
    const twice = wavelengthNm.with(last, wavelengthNm[last - 1]!)
    expect(fits({ wavelengthNm: twice })).toBe(false)
    expect(fits({ wavelengthNm: wavelengthNm.toReversed() })).toBe(false)
  })

  test('says why its range ends where it does, by a reason that there is', () => {
    const { range } = response
    for (const reason of [
      'end of data',
      'noise',
      'stray light',
      'steep edge',
      'second order',
      'saturated',
      'glass',
      'set by hand',
    ]) {
      const excluded = [{ fromNm: 600, toNm: 610, reason }]
      const ends = { shortEnd: reason, longEnd: reason, excluded }
      expect(fits({ range: { ...range, ...ends } }), reason).toBe(true)
    }
    for (const wrong of [{ shortEnd: 'moonlight' }, { toNm: undefined }, { excluded: [{}] }])
      expect(fits({ range: { ...range, ...wrong } }), JSON.stringify(wrong)).toBe(false)
  })

  test('states its instrument whole, and may say what it was recorded as', () => {
    const { instrument } = response
    for (const name of Object.keys(instrument))
      expect(fits({ instrument: { ...instrument, [name]: undefined } }), name).toBe(false)
    expect(fits({ instrument: { ...instrument, saturationLevel: null } })).toBe(true)
    expect(fits({ pedestal: { mean: 0 } })).toBe(false)
    expect(fits({ findings: [{ code: 'coarse' }] })).toBe(true)
    expect(fits({ findings: [{}] })).toBe(false)
    const heading = 'x'.repeat(400)
    expect(fits({ recordedAs: { heading, integration: '20 ms', largest: 4e4 } })).toBe(true)
    expect(fits({ recordedAs: { heading: null, largest: 4e4 } })).toBe(true)
    expect(fits({ recordedAs: { heading: `${heading}x`, largest: 4e4 } })).toBe(false)
  })

  test('is used over the range that a person has set, or its own', () => {
    const with_ = (range: unknown) => v.is(responseData, { response, range })
    expect([with_({ fromNm: 500, toNm: 700 }), with_({ fromNm: 500 })]).toEqual([true, false])
  })
})

describe('the inputs of a spectrum reading', () => {
  const read = (change: object) => storedSpectrum({ ...inputs, ...change } as never)

  test('name what readings share; those of before that name nothing', () => {
    expect(read({})).toMatchObject({ responseId: 'a response', tableName: null })
    expect(read({ tableName: 'pane.csv' })?.tableName).toBe('pane.csv')
    expect(read({ responseId: undefined, tableName: undefined })).toMatchObject({
      responseId: '',
      tableName: null,
    })
    expect(read({ responseId: 'x'.repeat(401) })).toBeNull()
  })

  test('hold a spectrum with a number for each of its wavelengths, which rise', () => {
    const { spectrum } = recording
    const recorded = (change: object) =>
      read({ recording: { dark: null, spectrum: { ...spectrum, ...change } } })
    const three = { wavelengthNm: [500, 510, 520], signal: [1, 2, 3] }
    expect(recorded(three)?.recording.spectrum).toMatchObject(three)
    expect(recorded({ ...three, integration: '20 ms' })?.recording.spectrum.integration).toBe(
      '20 ms',
    )
    for (const wrong of [
      { wavelengthNm: [], signal: [] },
      { ...three, signal: [1, 2] },
      { ...three, wavelengthNm: [500, 500, 520] },
      { ...three, wavelengthNm: [500, 520, 510] },
      { ...three, name: 'x'.repeat(401) },
    ])
      expect(recorded(wrong), JSON.stringify(wrong).slice(0, 80)).toBeNull()
    // The dark is a spectrum too.
    expect(read({ recording: { spectrum, dark: { ...three, name: null } } })).not.toBeNull()
    expect(
      read({ recording: { spectrum, dark: { ...three, name: null, signal: [1] } } }),
    ).toBeNull()
  })

  test('take what was said beside: other responses, a window, a range, that it glows', () => {
    const window = { wavelengthNm: [400, 900], transmittance: [0.8, 0.9], standardUncertainty: 0 }
    const said = {
      others: [response],
      window: { ...window, transmittanceUncertainty: 0.005 },
      range: { fromNm: 500, toNm: 700 },
      ratioNm: null,
      statedGlow: true,
    }
    expect(read(said)).toMatchObject({ ...said, others: [{ wavelengthNm: response.wavelengthNm }] })
    for (const wrong of [
      { others: [{}] },
      { window: { ...window, transmittance: ['clear'] } },
      { range: { fromNm: 500 } },
      { ratioNm: [550] },
      { statedGlow: 'yes' },
    ])
      expect(read(wrong), JSON.stringify(wrong)).toBeNull()
  })
})
