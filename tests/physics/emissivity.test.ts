import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import {
  colourTemperature,
  colourTemperatureWien,
  emissivityFromPoints,
  greyEmissivity,
  logRadianceRatio,
  ratioTemperature,
  trueTemperatureFromColour,
  trueTemperatureFromColourWien,
} from '../../src/physics/emissivity.ts'
import { planckRadiance } from '../../src/physics/planck.ts'
import { expectClose, expectPrinted } from '../close-to.ts'

const temperature = fc.double({ min: 500, max: 4000, noNaN: true })
const slope = fc.double({ min: -0.1, max: 0.1, noNaN: true })
const pair = fc
  .tuple(
    fc.double({ min: 400, max: 600, noNaN: true }),
    fc.double({ min: 50, max: 230, noNaN: true }),
  )
  .map(([short, gap]) => [short, short + gap] as const)

describe('ratio temperature', () => {
  it('inverts the ratio of two Planck radiances, from dull red to far beyond the sun', () => {
    fc.assert(
      fc.property(fc.double({ min: 300, max: 1e5, noNaN: true }), pair, (t, [short, long]) =>
        expectClose(ratioTemperature(logRadianceRatio(t, short, long), short, long), t, 1e-9),
      ),
    )
  })

  it('is the logarithm of planckRadiance at the two wavelengths', () => {
    fc.assert(
      fc.property(temperature, pair, (t, [short, long]) => {
        const direct = Math.log(planckRadiance(short * 1e-9, t) / planckRadiance(long * 1e-9, t))
        expect(Math.abs(logRadianceRatio(t, short, long) - direct)).toBeLessThan(1e-10)
      }),
    )
  })

  it('reaches the Rayleigh-Jeans limit 4 ln(long / short) and no further (analytic limit)', () => {
    expectClose(logRadianceRatio(1e9, 500, 600), 4 * Math.log(600 / 500), 1e-5)
    for (const kelvin of [0, -300, Number.NaN])
      expect(logRadianceRatio(kelvin, 500, 600)).toBe(Number.NEGATIVE_INFINITY)
    expect(ratioTemperature(4 * Math.log(600 / 500), 500, 600)).toBe(Number.POSITIVE_INFINITY)
    expect(ratioTemperature(Number.NEGATIVE_INFINITY, 500, 600)).toBe(0)
  })

  it('refuses wavelengths in the wrong order', () => {
    expect(() => ratioTemperature(-1, 600, 500)).toThrow(RangeError)
  })
})

describe('colour temperature', () => {
  it('is 2033 K for tungsten at 2000 K: e 0.469 at 0.467, 0.435 at 0.665 um (Forsythe & Worthing, from memory)', () => {
    const slopeOfTungsten = Math.log(0.469 / 0.435)
    expectPrinted(colourTemperatureWien(2000, slopeOfTungsten, 467, 665), '2033')
    expectPrinted(colourTemperature(2000, slopeOfTungsten, 467, 665), '2033')
  })

  it('leaves a grey body alone', () => {
    fc.assert(
      fc.property(temperature, pair, (t, [short, long]) => {
        expectClose(colourTemperature(t, 0, short, long), t, 1e-10)
        expectClose(colourTemperatureWien(t, 0, short, long), t, 1e-12)
      }),
    )
  })

  it('round-trips and rises with the slope', () => {
    fc.assert(
      fc.property(temperature, slope, pair, (t, s, [short, long]) => {
        const seen = colourTemperature(t, s, short, long)
        if (!Number.isFinite(seen)) return
        expectClose(trueTemperatureFromColour(seen, s, short, long), t, 1e-8)
        const wien = colourTemperatureWien(t, s, short, long)
        if (Number.isFinite(wien))
          expectClose(trueTemperatureFromColourWien(wien, s, short, long), t, 1e-9)
        expect(colourTemperature(t, s + 0.001, short, long)).toBeGreaterThan(seen)
      }),
    )
  })

  it('moves 10 K at 900 °C for 3 % between 550 and 650 nm: T^2 s / (c2 (1/short - 1/long))', () => {
    // Differential of Wien's ratio: 1173.15^2 * 0.03 / (0.0143878 * 279720) = 10.26 K.
    expectPrinted((colourTemperature(1173.15, 0.0003, 550, 650) - 1173.15) * 100, '10.3')
  })
})

describe('spectral emissivity from points', () => {
  const model = emissivityFromPoints([
    { wavelengthNm: 500, emissivity: 0.5 },
    { wavelengthNm: 600, emissivity: 0.4 },
  ])
  it('is linear between the points and held beyond them', () => {
    expect(model(550, 1000)).toBeCloseTo(0.45, 12)
    expect([model(300, 1000), model(900, 1000)]).toEqual([0.5, 0.4])
    expect(greyEmissivity(0.8)(555, 1234)).toBe(0.8)
  })
  it('needs a point', () => {
    expect(() => emissivityFromPoints([])).toThrow(RangeError)
  })
})
