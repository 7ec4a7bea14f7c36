import Color from 'colorjs.io'
import { converter } from 'culori'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { bradford, p3Diagonal } from '../../src/colour/adaptation.ts'
import { type Xy, xyFromXyz, xyzFromXy } from '../../src/colour/chromaticity.ts'
import { colourTemperatureFromXy, planckianXy } from '../../src/colour/planckian-locus.ts'
import { P3_FROM_XYZ, WHITE_D65, XYZ_FROM_P3 } from '../../src/colour/rgb-spaces.ts'
import { diagonal, multiply, transform } from '../../src/numerics/matrix3.ts'

/** D50 as ICC profiles and CSS round it. */
const WHITE_D50: Xy = { x: 0.3457, y: 0.3585 }
const light = fc
  .double({ min: 2000, max: 12000, noNaN: true })
  .map((temperatureK) => planckianXy(temperatureK))

describe('Bradford', () => {
  const toD50 = bradford(WHITE_D65, WHITE_D50)

  test('culori and colorjs.io carry D65 to D50 alike', () => {
    const culori = converter('xyz50')
    const component = fc.double({ min: 0, max: 1, noNaN: true })
    fc.assert(
      fc.property(component, component, component, (x, y, z) => {
        const got = transform(toD50, [x, y, z])
        const first = culori({ mode: 'xyz65', x, y, z })
        const second = new Color('xyz-d65', [x, y, z]).to('xyz-d50').coords
        for (const [i, value] of [first.x, first.y, first.z].entries()) {
          // culori's matrix rests on whites of five digits.
          expect(Math.abs(got[i]! - value)).toBeLessThan(1e-4)
          expect(Math.abs(got[i]! - second[i]!)).toBeLessThan(1e-9)
        }
      }),
    )
  })
})

describe.each([
  ['Bradford', bradford],
  ['Display P3 diagonal', p3Diagonal],
] as const)('%s', (_, adapt) => {
  test('carries one white to the other, and back', () => {
    fc.assert(
      fc.property(light, light, (from, to) => {
        const there = adapt(from, to)
        const moved = xyFromXyz(transform(there, xyzFromXy(from)))!
        expect(Math.abs(moved.x - to.x)).toBeLessThan(1e-12)
        expect(Math.abs(moved.y - to.y)).toBeLessThan(1e-12)
        const round = multiply(adapt(to, from), there)
        for (let i = 0; i < 3; i++) {
          for (let j = 0; j < 3; j++) {
            expect(Math.abs(round[i]![j]! - (i === j ? 1 : 0))).toBeLessThan(1e-11)
          }
        }
      }),
    )
  })

  test('from a white to itself changes nothing', () => {
    const same = adapt(WHITE_D65, WHITE_D65)
    for (let i = 0; i < 3; i++) {
      for (let j = 0; j < 3; j++) {
        expect(Math.abs(same[i]![j]! - (i === j ? 1 : 0))).toBeLessThan(1e-15)
      }
    }
  })
})

test('gains set after the colour matrix are undone by the P3 diagonal, not by Bradford', () => {
  // A camera of ideal colours whose white balance is off: gains in linear Display P3.
  const gains = diagonal([1.2, 1, 0.8])
  const camera = multiply(XYZ_FROM_P3, multiply(gains, P3_FROM_XYZ))
  const card = xyFromXyz(transform(camera, xyzFromXy(WHITE_D65)))!
  const glow = transform(camera, xyzFromXy(planckianXy(1173)))
  const read = (adapt: typeof bradford): number => {
    const xy = xyFromXyz(transform(adapt(card, WHITE_D65), glow))!
    const result = colourTemperatureFromXy(xy)
    if (result.kind !== 'near') throw new Error(result.kind)
    return result.temperatureK
  }
  expect(Math.abs(read(p3Diagonal) - 1173)).toBeLessThan(0.01)
  expect(Math.abs(read(bradford) - 1173)).toBeGreaterThan(10)
})
