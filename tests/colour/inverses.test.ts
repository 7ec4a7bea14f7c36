import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  uvFromUvPrime,
  uvFromXy,
  uvPrimeFromUv,
  uvPrimeFromXy,
  xyFromUv,
  xyFromUvPrime,
  xyFromXyz,
  xyzFromXy,
} from '../../src/colour/chromaticity.ts'
import { covarianceEllipse, covarianceFromEllipse } from '../../src/colour/ellipse.ts'
import { lightnessFromLuminance, luminanceFromLightness } from '../../src/colour/lightness.ts'
import {
  colourTemperatureFromUv,
  colourTemperatureFromXy,
  planckianXy,
  uvFromColourTemperature,
} from '../../src/colour/planckian-locus.ts'
import {
  decodeRgb,
  decodeTransfer,
  encodeRgb,
  encodeTransfer,
  linearP3FromSrgb,
  linearP3FromXyz,
  linearSrgbFromP3,
  linearSrgbFromXyz,
  xyzFromLinearP3,
  xyzFromLinearSrgb,
} from '../../src/colour/rgb-spaces.ts'
import { invert, type Triple, transform } from '../../src/numerics/matrix3.ts'

/** A conversion and its inverse on lists of numbers, so that one table holds them all. */
interface Pair {
  readonly name: string
  readonly there: (values: readonly number[]) => readonly number[]
  readonly back: (values: readonly number[]) => readonly number[]
  readonly samples: fc.Arbitrary<number[]>
  /** Largest allowed difference per number. */
  readonly tolerance: number
}

const number = (min: number, max: number) => fc.double({ min, max, noNaN: true })
const numbers = (...ranges: readonly [number, number][]) =>
  fc.tuple(...ranges.map(([min, max]) => number(min, max)))
/** Linear light and codes, well out of gamut on both sides. */
const rgb = numbers([-0.5, 2], [-0.5, 2], [-0.5, 2])
const real = numbers([0.05, 0.73], [0.05, 0.83]).filter((xy) => xy[0]! + xy[1]! < 0.99)

const triple = (f: (v: Triple) => Triple) => (v: readonly number[]) => f(v as unknown as Triple)
const single = (f: (v: number) => number) => (v: readonly number[]) => [f(v[0]!)]

const near = (result: ReturnType<typeof colourTemperatureFromUv>) => {
  if (result.kind !== 'near') throw new Error(`expected a temperature, got ${result.kind}`)
  return result
}

const PAIRS: readonly Pair[] = [
  {
    name: 'x, y and u′, v′',
    there: ([x, y]) => Object.values(uvPrimeFromXy({ x: x!, y: y! })),
    back: ([u, v]) => Object.values(xyFromUvPrime({ uPrime: u!, vPrime: v! })),
    samples: real,
    tolerance: 1e-13,
  },
  {
    name: 'x, y and u, v of 1960',
    there: ([x, y]) => Object.values(uvFromXy({ x: x!, y: y! })),
    back: ([u, v]) => Object.values(xyFromUv({ u: u!, v: v! })),
    samples: real,
    tolerance: 1e-13,
  },
  {
    name: 'u, v of 1960 and u′, v′',
    there: ([u, v]) => Object.values(uvPrimeFromUv({ u: u!, v: v! })),
    back: ([u, v]) => Object.values(uvFromUvPrime({ uPrime: u!, vPrime: v! })),
    samples: numbers([0, 0.62], [0, 0.4]),
    tolerance: 1e-15,
  },
  {
    name: 'x, y at a luminance and X, Y, Z',
    there: ([x, y, luminance]) => xyzFromXy({ x: x!, y: y! }, luminance),
    back: (xyz) => {
      const { x, y } = xyFromXyz(xyz as unknown as Triple)!
      return [x, y, xyz[1]!]
    },
    samples: fc.tuple(real, number(1e-3, 100)).map(([xy, luminance]) => [...xy, luminance]),
    tolerance: 1e-13,
  },
  {
    name: 'linear sRGB and XYZ',
    there: triple(xyzFromLinearSrgb),
    back: triple(linearSrgbFromXyz),
    samples: rgb,
    tolerance: 1e-14,
  },
  {
    name: 'linear Display P3 and XYZ',
    there: triple(xyzFromLinearP3),
    back: triple(linearP3FromXyz),
    samples: rgb,
    tolerance: 1e-14,
  },
  {
    name: 'linear Display P3 and linear sRGB',
    there: triple(linearSrgbFromP3),
    back: triple(linearP3FromSrgb),
    samples: rgb,
    tolerance: 1e-14,
  },
  {
    name: 'stored code and linear light',
    there: single(decodeTransfer),
    back: single(encodeTransfer),
    samples: fc.tuple(number(-1.5, 1.5)),
    tolerance: 1e-14,
  },
  {
    name: 'linear light and stored code at the knee',
    there: single(encodeTransfer),
    back: single(decodeTransfer),
    samples: fc.tuple(number(0.00313, 0.00314)),
    tolerance: 3e-9, // the standard's branches miss each other by this much
  },
  {
    name: 'stored RGB and linear RGB',
    there: triple(decodeRgb),
    back: triple(encodeRgb),
    samples: rgb,
    tolerance: 1e-14,
  },
  {
    name: 'relative luminance and lightness',
    there: single(lightnessFromLuminance),
    back: single(luminanceFromLightness),
    samples: fc.tuple(number(0, 2)),
    tolerance: 1e-14,
  },
  {
    name: 'mired and chromaticity of a black body',
    there: ([mired]) => Object.values(planckianXy(1e6 / mired!)),
    back: ([x, y]) => [1e6 / near(colourTemperatureFromXy({ x: x!, y: y! })).temperatureK],
    samples: fc.tuple(number(50.1, 1428)),
    tolerance: 5e-6,
  },
  {
    name: 'mired with Duv and u, v of 1960',
    there: ([mired, duv]) => Object.values(uvFromColourTemperature(1e6 / mired!, duv)),
    back: ([u, v]) => {
      const { temperatureK, duv } = near(colourTemperatureFromUv({ u: u!, v: v! }))
      return [1e6 / temperatureK, duv]
    },
    samples: numbers([50.1, 1428], [-0.0499, 0.0499]),
    tolerance: 2e-4,
  },
  {
    name: 'axes of an ellipse and covariance',
    there: ([major, share, angle]) =>
      covarianceFromEllipse({ major: major!, minor: major! * share!, angle: angle! }).flat(),
    back: ([a, b, , d]) => {
      const ellipse = covarianceEllipse([
        [a!, b!],
        [b!, d!],
      ])
      return [ellipse.major, ellipse.minor / ellipse.major, ellipse.angle]
    },
    samples: numbers([1e-3, 1], [0.05, 0.95], [-1.57, 1.57]),
    tolerance: 1e-12,
  },
]

describe('every conversion and its inverse lead back', () => {
  test.each(PAIRS)('$name', ({ there, back, samples, tolerance }) => {
    fc.assert(
      fc.property(samples, (values) => {
        const returned = back(there(values))
        expect(returned.length).toBe(values.length)
        for (let i = 0; i < values.length; i++) {
          expect(Math.abs(returned[i]! - values[i]!)).toBeLessThanOrEqual(tolerance)
        }
      }),
      { numRuns: 500 },
    )
  })

  test('a matrix and its inverse', () => {
    const entries = fc.tuple(...Array.from({ length: 9 }, () => number(-1, 1)))
    fc.assert(
      fc.property(entries, rgb, (m, v) => {
        // A strong diagonal keeps the matrix far from singular.
        const matrix = [
          [m[0]! + 4, m[1]!, m[2]!],
          [m[3]!, m[4]! + 4, m[5]!],
          [m[6]!, m[7]!, m[8]! + 4],
        ] as unknown as Parameters<typeof invert>[0]
        const vector = v as unknown as Triple
        const returned = transform(invert(matrix), transform(matrix, vector))
        for (let i = 0; i < 3; i++) expect(Math.abs(returned[i]! - vector[i]!)).toBeLessThan(1e-13)
      }),
    )
  })
})
