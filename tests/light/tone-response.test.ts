import Color from 'colorjs.io'
import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { decodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { clippingLevels } from '../../src/light/clipping-level.ts'
import { CLIPPED, FLOOR, FLOOR_BLUE, FLOOR_GREEN, FLOOR_RED } from '../../src/light/image.ts'
import { decodeCode, greenSlopeInP3, toLinearLight } from '../../src/light/tone-response.ts'
import { picture } from './pictures.ts'

const single = (space: 'srgb' | 'display-p3', ...codes: number[]) =>
  toLinearLight({ width: 1, height: 1, space, codes: Float32Array.from(codes, (c) => c / 255) })

describe('stored codes become linear Display P3', () => {
  it('agrees with colorjs.io for photos of both spaces', () => {
    fc.assert(
      fc.property(
        fc.constantFrom('srgb' as const, 'display-p3' as const),
        fc.tuple(
          ...([0, 1, 2].map(() => fc.integer({ min: 0, max: 255 })) as [
            fc.Arbitrary<number>,
            fc.Arbitrary<number>,
            fc.Arbitrary<number>,
          ]),
        ),
        (space, codes) => {
          const light = single(space, ...codes)
          const oracle = new Color(
            space === 'srgb' ? 'srgb' : 'p3',
            codes.map((c) => c / 255) as [number, number, number],
          ).to('p3-linear').coords
          // 32-bit floats hold 7 digits; the oracle rounds the matrices to as many.
          for (let c = 0; c < 3; c++)
            expect(Math.abs(light.rgb[c]! - oracle[c]!)).toBeLessThan(2e-6)
        },
      ),
    )
  })

  it('reads the table and the formula alike, also between 8-bit codes', () => {
    for (let c = 0; c <= 255; c++) expect(decodeCode(c / 255)).toBe(decodeTransfer(c / 255))
    expect(decodeCode(100.5 / 255)).toBe(decodeTransfer(100.5 / 255))
    // A 32-bit float does not hold c/255 exactly; the table is still found, to 1e-6 of full scale.
    fc.assert(
      fc.property(fc.float({ min: 0, max: 1, noNaN: true }), (code) => {
        expect(Math.abs(decodeCode(code) - decodeTransfer(code))).toBeLessThan(2e-6)
      }),
    )
  })

  it('flags top and floor in the space of the file, channel by channel', () => {
    expect(single('display-p3', 255, 80, 20).flags[0]).toBe(CLIPPED)
    expect(single('srgb', 254, 80, 20).flags[0]).toBe(0)
    expect(single('srgb', 120, 0, 0).flags[0]).toBe(FLOOR | FLOOR_GREEN | FLOOR_BLUE)
    expect(single('srgb', 0, 255, 3).flags[0]).toBe(CLIPPED | FLOOR | FLOOR_RED)
    // In P3 this sRGB colour has green well above 0: the flag must not come from there.
    const red = single('srgb', 250, 0, 30)
    expect(red.rgb[1]).toBeGreaterThan(0.02)
    expect(red.flags[0]! & FLOOR_GREEN).toBe(FLOOR_GREEN)
  })
})

it('moves G/R in Display P3 with G/R of the photo as colorjs.io does, of any glow', () => {
  const lnRatio = (linear: [number, number, number]) => {
    const [r, g] = new Color('srgb-linear', linear).to('p3-linear').coords
    return Math.log(g! / r!)
  }
  const step = 1e-4
  for (const green of [0.02, 0.1, 0.3, 0.8]) {
    const at = (ln: number): [number, number, number] => [1, green * Math.exp(ln), green / 4]
    const slope = (lnRatio(at(step)) - lnRatio(at(-step))) / (2 * step)
    expect(greenSlopeInP3('srgb', at(0))).toBeCloseTo(slope, 4)
  }
  expect(greenSlopeInP3('display-p3', [1, 0.1, 0])).toBe(1)
})

describe('the level from which a channel is clipped', () => {
  /** A glow that gets brighter to the right, past the top of red. */
  const uneven = (x: number) => {
    const level = 0.4 + (x / 320) * 1.4
    return [level, 0.1 * level * (1 + x / 320), 0.02 * level] as const
  }

  it('is the top code where nothing lies flat', () => {
    const even = picture(320, 64, () => [0.95, 0.1, 0.02])
    expect(clippingLevels(even).codes).toEqual([254.5 / 255, 254.5 / 255, 254.5 / 255])
    expect(clippingLevels(even).plateau).toEqual([false, false, false])
  })

  it('finds a white rendered at 250, and only in the channel that reaches it', () => {
    const levels = clippingLevels(picture(320, 64, uneven, { white: 250 }))
    expect(levels.plateau).toEqual([true, false, false])
    expect(levels.codes[0]).toBeGreaterThan(246 / 255)
    expect(levels.codes[0]).toBeLessThanOrEqual(249.5 / 255)
    const light = toLinearLight(picture(320, 64, uneven, { white: 250 }))
    const clipped = light.flags.filter((f) => f & CLIPPED).length / light.flags.length
    // Red passes code 250 (0.956 linear) at 40 % of the width.
    expect(clipped).toBeGreaterThan(0.58)
    expect(clipped).toBeLessThan(0.63)
  })

  it('finds a plateau that coding has smeared by a code or two, where the other colours vary', () => {
    const sharp = picture(320, 64, uneven, { white: 250 })
    let k = 0
    const codes = sharp.codes.map((c, i) =>
      i % 3 === 0 && c >= 249 / 255 ? (249 + [0, 1, 2, 1, 0, 2][k++ % 6]!) / 255 : c,
    )
    const levels = clippingLevels({ ...sharp, codes })
    expect(levels.plateau[0]).toBe(true)
  })

  it('does not take an even glow just below the top for a plateau', () => {
    for (const level of [0.9, 0.93, 0.95]) {
      const even = picture(320, 64, () => [level, 0.1, 0.02], { seed: 7 })
      expect(clippingLevels(even).plateau, `level ${level}`).toEqual([false, false, false])
    }
  })
})
