import { describe, expect, it } from 'vitest'
import { responseFromReference } from '../../../src/estimate/spectrum/reference-response.ts'
import { responseFromLamp } from '../../../src/estimate/spectrum/response.ts'
import { KNOWN_GREY } from '../../../src/estimate/spectrum/surface.ts'
import { temperatureFromSpectrum } from '../../../src/estimate/spectrum/temperature.ts'
import {
  type InstrumentResponse,
  type Recording,
  type SpectrumSurface,
  USUAL_INSTRUMENT,
} from '../../../src/estimate/spectrum/types.ts'
import { spectrumRefusalNotice } from '../../../src/ui/words/no-glow.ts'
import {
  INSTRUMENTS,
  planck,
  type Radiance,
  SimulatedDay,
  type SimulatedInstrument,
  seededRandom,
  USUAL_CONDITIONS,
} from '../../accuracy/spectrum-simulation.ts'
import { type LightSpectrum, readLights } from '../../measured-data.ts'

const LIGHTS = readLights()
const light = (name: string) => LIGHTS.find((one) => one.name === name)!
const isThermal = ({ kind }: LightSpectrum) => kind === 'filament'

/** Straight between the published values, held for one step beyond them. */
function radianceOf({ wavelengthNm, power }: LightSpectrum): Radiance {
  const first = wavelengthNm[0]!
  const step = wavelengthNm[1]! - first
  return (nm) => {
    const at = (nm - first) / step
    const i = Math.min(wavelengthNm.length - 2, Math.max(0, Math.floor(at)))
    const share = Math.min(1, Math.max(0, at - i))
    return power[i]! + share * (power[i + 1]! - power[i]!)
  }
}

const within = (instrument: SimulatedInstrument): SimulatedInstrument => ({
  ...instrument,
  samples: Math.min(512, instrument.samples),
  fromNm: Math.max(382, instrument.fromNm),
  toNm: Math.min(778, instrument.toNm),
  // Light at half the wavelength lies outside the published spectra.
  secondOrder: 0,
})
const flat = (samples: number): SimulatedInstrument => ({
  name: `even, ${samples} samples`,
  fromNm: 380,
  toNm: 780,
  samples,
  bandwidthNm: 1,
  secondOrder: 0,
  response: () => 1,
})
/** As good as nothing is known of its slope: most of what is no glow passes for a surface. */
const UNKNOWN: SpectrumSurface = { ...KNOWN_GREY, standardUncertainty: 0.06 }

const read = (recording: Recording, response: InstrumentResponse, surface: SpectrumSurface) =>
  temperatureFromSpectrum({
    recording,
    response,
    surface,
    window: null,
    range: null,
    ratioNm: null,
  })

/** Names of lights that got a figure with less than 10 %, and of filaments that did not. */
function wronglyJudged(
  responseOf: (one: LightSpectrum) => { recording: Recording; response: InstrumentResponse },
): string[] {
  const wrong: string[] = []
  for (const one of LIGHTS) {
    const { recording, response } = responseOf(one)
    const result = read(recording, response, UNKNOWN)
    const sure = result.ok && result.standardUncertaintyK < 0.1 * result.temperatureK
    if (sure !== isThermal(one)) wrong.push(`${one.name}: ${result.ok ? 'figure' : result.code}`)
  }
  return wrong
}

describe('of 70 published lights only the filaments get a figure', () => {
  // Reference, shape error and instrument differ: a hot lamp and a furnace, 0 and 1.5 %.
  it.each([
    [within(INSTRUMENTS[0]!), 2856, 0.015],
    [within(INSTRUMENTS[2]!), 1272, 0],
    [within(INSTRUMENTS[3]!), 2856, 0],
    [flat(401), 1272, 0.015],
    [flat(81), 2856, 0.015],
  ] as const)(
    'seen through: $name, reference %d K, shape error %d',
    (instrument, kelvin, shape) => {
      const day = new SimulatedDay(
        instrument,
        { ...USUAL_CONDITIONS, shapeError: shape },
        seededRandom(5),
      )
      const made = responseFromLamp(
        day.record(planck(kelvin)),
        {
          emitter: 'black body',
          colourTemperatureK: kelvin,
          standardUncertaintyK: 0.005 * kelvin,
        },
        { ...USUAL_INSTRUMENT, secondOrderShare: 0 },
      )
      if (!made.ok) throw new Error(made.code)
      const { response } = made
      expect(
        wronglyJudged((one) => ({ recording: day.record(radianceOf(one)), response })),
      ).toEqual([])
    },
  )

  it.each(['power', 'photons'] as const)('as calibrated files, in %s', (quantity) => {
    expect(
      wronglyJudged(({ wavelengthNm, power }) => {
        const signal = power.map((p, i) => (quantity === 'photons' ? p * wavelengthNm[i]! : p))
        const recording = { spectrum: { name: null, wavelengthNm, signal }, dark: null }
        const calibration = { emitter: 'calibration', quantity } as const
        const made = responseFromReference(recording, calibration, USUAL_INSTRUMENT)
        if (!made.ok) throw new Error(made.code)
        return { recording, response: made.response }
      }),
    ).toEqual([])
  })
})

describe('a light that is no glow', () => {
  const wordsOf = (name: string) => {
    const { wavelengthNm, power } = light(name)
    const recording = { spectrum: { name: null, wavelengthNm, signal: power }, dark: null }
    const calibration = { emitter: 'calibration', quantity: 'power' } as const
    const made = responseFromReference(recording, calibration, USUAL_INSTRUMENT)
    if (!made.ok) throw new Error(made.code)
    const result = read(recording, made.response, KNOWN_GREY)
    return result.ok ? 'a figure' : spectrumRefusalNotice(result).todo
  }

  it.each([
    ['CIE FL11', /lines at .*545.*610.*fluorescent lamp\?/],
    ['CIE FL2', /lines at .*435.*545.*(fluorescent|mercury)/],
    ['CIE LED-B3', /hump.* at 4\d\d.*white LED\?/i],
    ['Phosphor LED YAG', /hump.* at 4\d\d.*white LED\?/i],
    ['LPS', /line at 590.*sodium/],
    ['3-LED-1 (457/540/605)', /455 and 605 nm, a hump at 540 nm.*LED/],
  ])('%s is told by what was seen', (name, words) => {
    expect(wordsOf(name).replaceAll('\u00a0', ' ')).toMatch(words)
  })
})

it('white light in a range that ends at 640 nm is a glow only when a person says so', () => {
  // A modelled lamp of the set follows Planck’s law at 3006 K to 0.5 % from 425 to 670 nm.
  const instrument = { ...INSTRUMENTS[1]!, secondOrder: 0, fromNm: 382 }
  const day = new SimulatedDay(instrument, USUAL_CONDITIONS, seededRandom(2))
  const reference = day.record(planck(2856))
  const made = responseFromLamp(
    reference,
    { emitter: 'black body', colourTemperatureK: 2856, standardUncertaintyK: 10 },
    USUAL_INSTRUMENT,
  )
  if (!made.ok) throw new Error(made.code)
  const asked = {
    recording: day.record(radianceOf(light('PHOS-1'))),
    response: made.response,
    surface: KNOWN_GREY,
    window: null,
    range: null,
    ratioNm: null,
  }
  expect(temperatureFromSpectrum(asked)).toMatchObject({
    ok: false,
    code: 'cannot tell from a lamp',
  })
  expect(temperatureFromSpectrum({ ...asked, statedGlow: true }).ok).toBe(true)
})
