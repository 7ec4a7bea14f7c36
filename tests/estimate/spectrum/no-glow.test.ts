import { expect, test } from 'vitest'
import { whyNoGlow } from '../../../src/estimate/spectrum/no-glow.ts'

type Evidence = Parameters<typeof whyNoGlow>[0]

/** What is found of a light; a sound glow of 1200 K with nothing against it unless changed. */
interface Found {
  readonly lightInLines?: number
  readonly samplesInLines?: number
  readonly smooth?: number
  readonly fine?: number
  readonly emitter?: string
  readonly otherInstrument?: boolean
  readonly peak?: { readonly atNm: number; readonly height: number }
  readonly kelvin?: number
  readonly slope?: number
  readonly endNm?: number
  readonly statedGlow?: boolean
  readonly duv?: number
  readonly cctApart?: number
  readonly colourApart?: number
  readonly halvesApart?: number
}

function told(found: Found): string | null {
  const kelvin = found.kelvin ?? 1200
  const evidence = {
    lines: {
      lines: [],
      lightShare: found.lightInLines ?? 0,
      sampleShare: found.samplesInLines ?? 0,
      fitted: {
        fit: {
          mired: 1e6 / kelvin,
          slope: (found.slope ?? 0) * 0.05,
          departure: [0],
          residual: [0],
          residualNoise: [0],
        },
        points: { nm: [450, found.endNm ?? 900] },
        bins: { nm: [600], start: [0] },
        sizes: { smooth: found.smooth ?? 0.01, fine: found.fine ?? 0.002 },
      },
    },
    setting: {
      otherInstrument: found.otherInstrument ?? false,
      response: { lamp: { emitter: found.emitter ?? 'black body' } },
      surface: { lnGreenOverRed: 0, standardUncertainty: 0.05 },
    },
    chromaticity: {
      kind: 'chromaticity',
      cctK: kelvin + 10 * (found.cctApart ?? 0),
      fittedCctK: kelvin,
      duv: found.duv ?? 0,
      standardUncertaintyK: 10,
      apart: found.colourApart ?? 0,
    },
    halves: {
      apart: found.halvesApart ?? 0,
      short: { temperatureK: kelvin },
      long: { temperatureK: kelvin },
    },
    statedGlow: found.statedGlow ?? false,
    peaks: found.peak ? [found.peak] : [],
  } as unknown as Evidence
  return whyNoGlow(evidence)?.code ?? null
}

test('a glow without anything against it is one', () => {
  expect(told({})).toBeNull()
})

// Each just inside and just outside; METHODS.md has what lamps and glows of every kind reach.
test.each<[string, string, Found, Found]>([
  ['a tenth of its light in lines', 'lines', { lightInLines: 0.095 }, { lightInLines: 0.105 }],
  [
    'lines at more than one place in seven',
    'lines',
    { lightInLines: 0.05, samplesInLines: 0.145 },
    { lightInLines: 0.05, samplesInLines: 0.155 },
  ],
  [
    'many lines of a hundredth of its light',
    'lines',
    { lightInLines: 0.0095, samplesInLines: 0.5 },
    { lightInLines: 0.0105, samplesInLines: 0.5 },
  ],
  ['a shape that no surface has', 'shape', { smooth: 0.068 }, { smooth: 0.072 }],
  [
    'such a shape by a calibration of the maker',
    'shape',
    { smooth: 0.097, emitter: 'calibration' },
    { smooth: 0.103, emitter: 'calibration' },
  ],
  [
    'such a shape by another instrument',
    'shape',
    { smooth: 0.34, otherInstrument: true },
    { smooth: 0.36, otherInstrument: true },
  ],
  [
    'a peak of a fifth before the infrared',
    'shape',
    { peak: { atNm: 650, height: 0.19 } },
    { peak: { atNm: 650, height: 0.21 } },
  ],
  [
    'a peak where Planck has none below 4000 K (Wien: 724 nm)',
    'shape',
    { peak: { atNm: 720, height: 0.5 } },
    { peak: { atNm: 680, height: 0.5 } },
  ],
  ['bands', 'bands', { fine: 0.029 }, { fine: 0.031 }],
  ['a slope that no surface has, up', 'slope', { slope: 4.8 }, { slope: 5.2 }],
  ['a slope that no surface has, down', 'slope', { slope: -4.8 }, { slope: -5.2 }],
  [
    'more heat than any solid bears: carbon sublimes near 3900 K (CRC Handbook)',
    'hotter than any solid',
    { kelvin: 3900 },
    { kelvin: 4100 },
  ],
  [
    // c2 / (900 nm T) is 28 at 571 K; Draper's 798 K has 26 at 700 nm.
    'less heat than can be seen',
    'too cold to see',
    { kelvin: 585 },
    { kelvin: 557 },
  ],
  [
    'an end where the eye ends, as a lamp has',
    'cannot tell from a lamp',
    { kelvin: 2400, endNm: 700 },
    { kelvin: 2400, endNm: 680 },
  ],
  [
    'the colour of the reddest white lamps, 2000 K',
    'cannot tell from a lamp',
    { kelvin: 1850, endNm: 680 },
    { kelvin: 1950, endNm: 680 },
  ],
  [
    'a colour beside the locus by the breadth of white (ANSI C78.377, from memory)',
    'off the locus',
    { duv: 0.0058, colourApart: 9 },
    { duv: -0.0062, colourApart: 9 },
  ],
  [
    'a colour that noise does not explain',
    'off the locus',
    { duv: 0.02, colourApart: 2.9 },
    { duv: 0.02, colourApart: 3.1 },
  ],
  [
    'a colour temperature that is not that of its fit',
    'off the locus',
    { cctApart: 2.9 },
    { cctApart: -3.1 },
  ],
  ['halves that disagree', 'halves disagree', { halvesApart: 2.9 }, { halvesApart: 3.1 }],
])('%s is no glow', (_, code, inside, outside) => {
  expect(told(inside)).toBeNull()
  expect(told(outside)).toBe(code)
})

test('who states a glow is believed where a lamp cannot be told', () => {
  expect(told({ kelvin: 2400, endNm: 680, statedGlow: true })).toBeNull()
})
