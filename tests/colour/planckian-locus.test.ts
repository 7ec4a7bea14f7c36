import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { uvFromXy, xyFromUv } from '../../src/colour/chromaticity.ts'
import {
  colourTemperatureFromUv,
  colourTemperatureFromXy,
  DUV_LIMIT,
  isotherm,
  LOCUS_COLDEST_K,
  LOCUS_HOTTEST_K,
  planckianUv,
  planckianXy,
  uvFromColourTemperature,
} from '../../src/colour/planckian-locus.ts'
import { SECOND_RADIATION_CONSTANT_ITS90 } from '../../src/physics/constants.ts'
import { expectPrinted } from '../close-to.ts'
import { directTemperature, directUv, directXyz, planck } from './direct-integration.ts'

const near = (result: ReturnType<typeof colourTemperatureFromUv>) => {
  if (result.kind !== 'near') throw new Error(`expected a temperature, got ${result.kind}`)
  return result
}

describe('published values', () => {
  test.each([
    // Wyszecki & Stiles, Color Science, Planckian x, y, c2 = 1.4388e-2 m K (from memory, so one
    // printed digit instead of half of one).
    [1000, 0.6528, 0.3444],
    [1500, 0.5857, 0.3931],
    [2000, 0.5267, 0.4133],
    [2500, 0.477, 0.4137],
    [3000, 0.4369, 0.4041],
  ])('a black body of %i K has x %f, y %f', (temperatureK, x, y) => {
    const got = planckianXy(temperatureK, SECOND_RADIATION_CONSTANT_ITS90)
    expect(Math.abs(got.x - x)).toBeLessThanOrEqual(1e-4)
    expect(Math.abs(got.y - y)).toBeLessThanOrEqual(1e-4)
  })

  test.each([
    // Robertson 1968, J. Opt. Soc. Am. 58, 1528, isotemperature lines, c2 = 1.4388e-2 m K.
    [600, '0.33724', '0.36051'],
    [400, '0.27218', '0.35407'],
    // The 1982 printing of Wyszecki & Stiles has a slip here, 0.24702.
    [325, '0.24792', undefined],
  ])('at %i mired the locus is at u %s, v %s', (mired, u, v) => {
    const got = planckianUv(1e6 / mired, SECOND_RADIATION_CONSTANT_ITS90)
    expectPrinted(got.u, u)
    if (v !== undefined) expectPrinted(got.v, v)
  })

  test('illuminant A is Planck at 2848 K with the c2 of its time', () => {
    // CIE 15:2004, 3.1: x 0.44758, y 0.40745 at c2 = 1.4350e-2 m K. A sum over the published 1 nm
    // table gives 0.447574, 0.407439: the print is one unit of its last digit off, so one unit more
    // than half is allowed here, and the sum is held to its own digits.
    const a = planckianXy(2848, 1.435e-2)
    expect(Math.abs(a.x - 0.44758)).toBeLessThanOrEqual(1.5e-5)
    expect(Math.abs(a.y - 0.40745)).toBeLessThanOrEqual(1.5e-5)
    const [X, Y, Z] = directXyz(planck(2848, 1.435e-2))
    expect(Math.abs(a.x - X / (X + Y + Z))).toBeLessThan(1e-6)
    expect(Math.abs(a.y - Y / (X + Y + Z))).toBeLessThan(1e-6)
  })

  test('illuminant A reads its temperature with the c2 of today and lies on the locus', () => {
    // CIE 15:2004, 3.1: 2848 K with c2 = 1.4350e-2 m K. Half of the last printed digit of
    // x, y = 0.44758, 0.40745 is worth 0.1 K.
    const a = near(colourTemperatureFromXy({ x: 0.44758, y: 0.40745 }))
    expect(Math.abs(a.temperatureK - (2848 * 1.4387769e-2) / 1.435e-2)).toBeLessThan(0.1)
    expectPrinted(a.duv, '0.0000')
  })

  test('D65 lies above the locus by 0.0032', () => {
    // Duv of D65: common practice.
    const d65 = near(colourTemperatureFromXy({ x: 0.31272, y: 0.32903 }))
    expectPrinted(d65.duv, '0.0032')
    const { u, v } = uvFromXy({ x: 0.31272, y: 0.32903 })
    expect(Math.abs(d65.temperatureK - directTemperature(u, v))).toBeLessThan(0.2)
  })

  test('the coldest glow tends to the red end of the spectrum', () => {
    // The spectral locus ends at x 0.7347, y 0.2653 (CIE 15:2004, from 700 nm on).
    const end = planckianXy(1)
    expectPrinted(end.x, '0.7347')
    expectPrinted(end.y, '0.2653')
  })

  test('the hottest tends to the Rayleigh-Jeans colour', () => {
    // x 0.2399, y 0.2341 (Wyszecki & Stiles, from memory: one printed digit).
    const end = planckianXy(1e9)
    expect(Math.abs(end.x - 0.2399)).toBeLessThanOrEqual(1e-4)
    expect(Math.abs(end.y - 0.2341)).toBeLessThanOrEqual(1e-4)
  })
})

describe('against direct 1 nm integration', () => {
  test('on the locus the inverse is within 0.01 K over 800 to 4000 K', () => {
    let worst = 0
    for (let temperatureK = 800; temperatureK <= 4000; temperatureK += 3.7) {
      const [u, v] = directUv(temperatureK)
      const got = near(colourTemperatureFromUv({ u, v }))
      worst = Math.max(worst, Math.abs(got.temperatureK - temperatureK))
      expect(Math.abs(got.duv)).toBeLessThan(1e-6)
    }
    expect(worst).toBeLessThan(0.01)
  })

  test('over the whole range it is within 7e-5 of the temperature', () => {
    for (const temperatureK of [701, 750, 5000, 7000, 10000, 15000, 19900]) {
      const [u, v] = directUv(temperatureK)
      const got = near(colourTemperatureFromUv({ u, v })).temperatureK
      expect(Math.abs(got / temperatureK - 1)).toBeLessThan(7e-5)
    }
  })

  test('off the locus it finds the foot that a plain search finds', () => {
    for (const temperatureK of [850, 1173, 1700, 2856, 4200, 9000]) {
      for (const duv of [-0.049, -0.02, -0.003, 0.003, 0.02, 0.049]) {
        const uv = uvFromColourTemperature(temperatureK, duv)
        const got = near(colourTemperatureFromUv(uv))
        const searched = directTemperature(uv.u, uv.v)
        // Mired: the search stops at 1e-4, and a flat minimum of squares costs it 1e-3 more.
        expect(Math.abs(1e6 / got.temperatureK - 1e6 / searched)).toBeLessThan(3e-3)
      }
    }
  })

  test('stopping at 780 nm would shift 800 K by 0.4 K, which is why the table goes on', () => {
    // The deep red that an 780 nm table leaves out, seen through the 1 nm integral.
    const [u] = directUv(800)
    const [hotter] = directUv(801)
    expect(u - hotter).toBeGreaterThan(1e-4)
  })
})

describe('off the locus', () => {
  test('within the limit there is a temperature, beyond it a plain refusal', () => {
    const mired = fc.double({ min: 51, max: 1427, noNaN: true })
    const share = fc.double({ min: -2.5, max: 2.5, noNaN: true })
    fc.assert(
      fc.property(mired, share, (m, s) => {
        const duv = s * DUV_LIMIT
        const result = colourTemperatureFromUv(uvFromColourTemperature(1e6 / m, duv))
        if (Math.abs(duv) < DUV_LIMIT * 0.9999) {
          expect(result.kind).toBe('near')
        } else if (Math.abs(duv) > DUV_LIMIT * 1.0001 && duv > -2 * DUV_LIMIT) {
          expect(['too far', 'hotter than range', 'colder than range']).toContain(result.kind)
        }
      }),
      { numRuns: 1000 },
    )
  })

  test('no point of the plane gives a temperature that a search would not', () => {
    const points = Array.from({ length: 4001 }, (_, i) => {
      const temperatureK = 1e6 / (50 + (i * (1e6 / LOCUS_COLDEST_K - 50)) / 4000)
      return { temperatureK, ...planckianUv(temperatureK) }
    })
    fc.assert(
      fc.property(
        fc.double({ min: -0.1, max: 0.8, noNaN: true }),
        fc.double({ min: -0.1, max: 0.6, noNaN: true }),
        (u, v) => {
          const result = colourTemperatureFromUv({ u, v })
          let best = Number.POSITIVE_INFINITY
          let at = 0
          for (const point of points) {
            const distance = Math.hypot(u - point.u, v - point.v)
            if (distance < best) {
              best = distance
              at = point.temperatureK
            }
          }
          if (result.kind === 'near') {
            expect(Math.abs(Math.abs(result.duv) - best)).toBeLessThan(1e-5)
            expect(Math.abs(1e6 / result.temperatureK - 1e6 / at)).toBeLessThan(1)
            expect(result.temperatureK).toBeGreaterThanOrEqual(LOCUS_COLDEST_K)
            expect(result.temperatureK).toBeLessThanOrEqual(LOCUS_HOTTEST_K)
          } else if (best < DUV_LIMIT * 0.999) {
            // Near the locus and still no temperature: only past its ends.
            expect(['hotter than range', 'colder than range']).toContain(result.kind)
            const end = result.kind === 'colder than range' ? LOCUS_COLDEST_K : LOCUS_HOTTEST_K
            expect(Math.abs(1e6 / at - 1e6 / end)).toBeLessThan(1)
          }
        },
      ),
      { numRuns: 1000 },
    )
  })

  test('green, blue and magenta are not the colour of a glow', () => {
    // Primaries of sRGB (IEC 61966-2-1).
    expect(colourTemperatureFromXy({ x: 0.3, y: 0.6 }).kind).toBe('too far')
    expect(colourTemperatureFromXy({ x: 0.15, y: 0.06 }).kind).toBe('too far')
    expect(colourTemperatureFromXy({ x: 0.3, y: 0.15 }).kind).toBe('too far')
  })

  test('past the ends it says which end', () => {
    const cold = planckianXy(650)
    const hot = planckianXy(40000)
    expect(colourTemperatureFromXy(cold).kind).toBe('colder than range')
    expect(colourTemperatureFromXy(hot).kind).toBe('hotter than range')
  })

  test('what is no colour is no temperature, and nothing is ever not a number', () => {
    for (const bad of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(colourTemperatureFromUv({ u: bad, v: 0.3 })).toEqual({ kind: 'no colour' })
      expect(colourTemperatureFromUv({ u: 0.3, v: bad })).toEqual({ kind: 'no colour' })
    }
    fc.assert(
      fc.property(
        fc.double({ min: -1e12, max: 1e12, noNaN: true }),
        fc.double({ min: -1e12, max: 1e12, noNaN: true }),
        (u, v) => {
          for (const value of Object.values(colourTemperatureFromUv({ u, v }))) {
            expect(typeof value === 'string' || Number.isFinite(value)).toBe(true)
          }
        },
      ),
    )
  })
})

describe('shape', () => {
  test('the locus runs one way: hotter is less red, all along the range', () => {
    fc.assert(
      fc.property(fc.double({ min: 300, max: 1e5, noNaN: true }), (temperatureK) => {
        expect(planckianXy(temperatureK * 1.001).x).toBeLessThan(planckianXy(temperatureK).x)
      }),
    )
  })

  test('along the locus the inverse rises with temperature, across every node', () => {
    let previous = 0
    for (let mired = 1428; mired > 50; mired -= 0.13) {
      const got = near(colourTemperatureFromUv(planckianUv(1e6 / mired))).temperatureK
      expect(got).toBeGreaterThan(previous)
      previous = got
    }
  })

  test('a small step in colour is a small step in temperature, on and off the locus', () => {
    for (const duv of [-0.045, 0, 0.045]) {
      let previous: number | undefined
      for (let mired = 1400; mired > 60; mired -= 0.25) {
        const uv = uvFromColourTemperature(1e6 / mired, duv)
        const got = 1e6 / near(colourTemperatureFromUv(uv)).temperatureK
        if (previous !== undefined) {
          // A node shows as a step: 2e-4 mired is 1e-4 K at 700 K and 0.05 K at 15000 K.
          expect(Math.abs(previous - got - 0.25)).toBeLessThan(2e-4)
        }
        previous = got
      }
    }
  })

  test('isotherms cross the locus at right angles, magenta end first', () => {
    for (const temperatureK of [800, 1173, 2000, 2856, 6500, 15000]) {
      const [below, above] = isotherm(temperatureK, 0.02)
      const before = planckianUv(temperatureK * 0.9999)
      const after = planckianUv(temperatureK * 1.0001)
      const along = [after.u - before.u, after.v - before.v] as const
      const across = [above.u - below.u, above.v - below.v] as const
      const cosine =
        (along[0] * across[0] + along[1] * across[1]) /
        (Math.hypot(...along) * Math.hypot(...across))
      expect(Math.abs(cosine)).toBeLessThan(1e-5)
      expect(Math.hypot(...across)).toBeCloseTo(0.04, 12)
      expect(xyFromUv(above).y).toBeGreaterThan(xyFromUv(below).y)
    }
  })
})
