import Color from 'colorjs.io'
import { converter } from 'culori'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  decodeTransfer,
  encodeRgb,
  encodeTransfer,
  linearP3FromSrgb,
  linearSrgbFromP3,
  P3_FROM_XYZ,
  SRGB_FROM_XYZ,
  XYZ_FROM_P3,
  XYZ_FROM_SRGB,
  xyzFromLinearP3,
  xyzFromLinearSrgb,
} from '../../src/colour/rgb-spaces.ts'
import type { Matrix3, Triple } from '../../src/numerics/matrix3.ts'
import { expectPrinted } from '../close-to.ts'

const channel = fc.double({ min: -0.2, max: 1.2, noNaN: true })
const rgb: fc.Arbitrary<Triple> = fc.tuple(channel, channel, channel)

function expectPrintedMatrix(actual: Matrix3, printed: readonly (readonly string[])[]): void {
  for (let i = 0; i < 3; i++) {
    for (let j = 0; j < 3; j++) expectPrinted(actual[i]![j]!, printed[i]![j]!, `${i}, ${j}`)
  }
}

function expectNear(actual: Triple, expected: readonly number[], tolerance: number): void {
  for (let i = 0; i < 3; i++) expect(Math.abs(actual[i]! - expected[i]!)).toBeLessThan(tolerance)
}

describe('published matrices', () => {
  test('linear sRGB to XYZ is the matrix of the standard', () => {
    // IEC 61966-2-1:1999, eq. for XYZ from sRGB.
    expectPrintedMatrix(XYZ_FROM_SRGB, [
      ['0.4124', '0.3576', '0.1805'],
      ['0.2126', '0.7152', '0.0722'],
      ['0.0193', '0.1192', '0.9505'],
    ])
  })

  test('XYZ to linear sRGB is the finer matrix of its amendment', () => {
    // IEC 61966-2-1:1999/AMD1:2003, F.5, seven decimals (from memory: one printed digit).
    const printed = [
      [3.2406255, -1.537208, -0.4986286],
      [-0.9689307, 1.8757561, 0.0415175],
      [0.0557101, -0.2040211, 1.0569959],
    ]
    // The amendment inverts the four-decimal matrix, which is worth 4e-4 in the largest entry.
    for (let i = 0; i < 3; i++) expectNear(SRGB_FROM_XYZ[i]!, printed[i]!, 4e-4)
  })

  test('linear Display P3 to XYZ has the published entries', () => {
    // CSS Color 4, 10.3, after SMPTE EG 432-1 with D65 (from memory, four decimals).
    expectPrintedMatrix(XYZ_FROM_P3, [
      ['0.4866', '0.2657', '0.1982'],
      ['0.2290', '0.6917', '0.0793'],
      ['0.0000', '0.0451', '1.0439'],
    ])
    expectPrinted(P3_FROM_XYZ[0][0], '2.4935')
  })

  test('white is white in both, at the D65 of the standard', () => {
    // IEC 61966-2-1: x 0.3127, y 0.3290.
    for (const white of [xyzFromLinearSrgb([1, 1, 1]), xyzFromLinearP3([1, 1, 1])]) {
      expectNear(white, [0.3127 / 0.329, 1, 0.3583 / 0.329], 1e-14)
    }
    expectNear(linearSrgbFromP3([1, 1, 1]), [1, 1, 1], 1e-14)
  })
})

describe('independent oracles', () => {
  const culoriXyzFromRgb = converter('xyz65')

  test('culori agrees on sRGB and Display P3 to XYZ', () => {
    fc.assert(
      fc.property(rgb, (linear) => {
        const [r, g, b] = encodeRgb(linear)
        const srgb = culoriXyzFromRgb({ mode: 'rgb', r, g, b })
        expectNear(xyzFromLinearSrgb(linear), [srgb.x, srgb.y, srgb.z], 1e-7)
        const p3 = culoriXyzFromRgb({ mode: 'p3', r, g, b })
        expectNear(xyzFromLinearP3(linear), [p3.x, p3.y, p3.z], 1e-7)
      }),
    )
  })

  test('colorjs.io agrees on sRGB and Display P3, both ways', () => {
    fc.assert(
      fc.property(rgb, (linear) => {
        const p3 = new Color('p3-linear', [...linear])
        expectNear(xyzFromLinearP3(linear), p3.to('xyz-d65').coords, 1e-9)
        expectNear(linearSrgbFromP3(linear), p3.to('srgb-linear').coords, 1e-9)
        const srgb = new Color('srgb-linear', [...linear])
        expectNear(xyzFromLinearSrgb(linear), srgb.to('xyz-d65').coords, 1e-9)
        expectNear(linearP3FromSrgb(linear), srgb.to('p3-linear').coords, 1e-9)
        // colorjs.io keeps the standard's rounded knee, worth 3e-8 in a code.
        expectNear(encodeRgb(linear), srgb.to('srgb').coords, 1e-7)
      }),
    )
  })
})

describe('transfer function', () => {
  test('has the values of the standard', () => {
    // IEC 61966-2-1: half code is 0.2140 of the light; 18 % grey is code 118 of 255.
    expectPrinted(decodeTransfer(0.5), '0.2140')
    expectPrinted(encodeTransfer(0.18) * 255, '118')
    expect(decodeTransfer(0)).toBe(0)
    expect(decodeTransfer(1)).toBeCloseTo(1, 15)
  })

  test('rises, mirrors at zero, and has no step at the knee', () => {
    fc.assert(
      fc.property(fc.double({ min: 0, max: 2, noNaN: true }), (code) => {
        expect(decodeTransfer(-code)).toBe(-decodeTransfer(code))
        expect(encodeTransfer(-code)).toBe(-encodeTransfer(code))
        expect(decodeTransfer(code + 1e-3)).toBeGreaterThan(decodeTransfer(code))
        expect(encodeTransfer(code + 1e-3)).toBeGreaterThan(encodeTransfer(code))
      }),
    )
    expect(Math.abs(decodeTransfer(0.04045 + 1e-12) - decodeTransfer(0.04045))).toBeLessThan(1e-7)
  })
})

test('the glow of 900 °C is inside Display P3 and outside sRGB', () => {
  // CIE chromaticity of 1173 K, computed from Planck's law and the 1931 observer.
  const xyz: Triple = [0.6287 / 0.3646, 1, 0.0067 / 0.3646]
  const p3 = P3_FROM_XYZ.map((row) => row[0] * xyz[0] + row[1] * xyz[1] + row[2] * xyz[2])
  const srgb = SRGB_FROM_XYZ.map((row) => row[0] * xyz[0] + row[1] * xyz[1] + row[2] * xyz[2])
  expect(p3[1]).toBeGreaterThan(0)
  expect(srgb[2]).toBeLessThan(0)
})
