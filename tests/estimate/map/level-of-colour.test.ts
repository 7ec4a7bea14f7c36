import { describe, expect, test } from 'vitest'
import { encodeTransfer, linearP3FromSrgb } from '../../../src/colour/rgb-spaces.ts'
import { linearityByCurve, linearityOfSweep } from '../../../src/estimate/linearity-by-curve.ts'
import { linearityAt } from '../../../src/estimate/map/level-of-colour.ts'
import type { GlowInput, Linearity } from '../../../src/estimate/types.ts'
import { lightFromCode, type ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { expectClose } from '../../close-to.ts'
import { CHANNEL, measured, RATIO, sweep } from '../../light/exposure-sweep/bar-sweep.ts'
import { reading } from '../inputs.ts'

/** A photo of this linear Display P3; other places of it have its blue over red. */
const photo = (mean: Triple, linearity: Linearity): GlowInput =>
  reading(
    {
      mean,
      covariance: [
        [0, 0, 0],
        [0, 0, 0],
        [0, 0, 0],
      ],
    },
    { linearity },
  )
const colourOf = ([r, g]: Triple, times = 1) => ({
  lnRatio: Math.log(g / r),
  lnRed: Math.log(times * r),
})
const LIGHT: Triple = [0.5, 0.06, 0.02]

describe('how the light of another place of a picture came about', () => {
  test('is as it was in linear light, and where the curve of a sweep is not at hand', () => {
    const linear = { kind: 'linear' } as const
    expect(linearityAt(photo(LIGHT, linear), null)(colourOf(LIGHT, 0.3))).toBe(linear)
    const swept: Linearity = {
      kind: 'sweep',
      curveId: 'c',
      standardUncertaintyGreen: 0.02,
      standardUncertaintyBlue: 0.03,
    }
    expect(linearityAt(photo(LIGHT, swept), null)(colourOf(LIGHT, 0.3))).toBe(swept)
  })

  test.each(['display-p3', 'srgb'] as const)(
    'by an unknown curve is by the codes that its light has in %s',
    (space) => {
      const own: Triple = [0.5, 0.06, 0.02]
      const p3 = space === 'srgb' ? linearP3FromSrgb(own) : own
      const single: Linearity = { kind: 'single', curveId: 'c', storedLevels: [0, 0, 0], space }
      const of = linearityAt(photo(p3, single), null)
      const codes = (light: Triple, times: number) => {
        const found = of(colourOf(light, times))
        if (found.kind !== 'single') throw new Error(found.kind)
        expect(found).toMatchObject({ curveId: 'c', space })
        return found.storedLevels
      }
      for (const times of [1, 0.3])
        codes(p3, times).forEach((code, c) => {
          expect(code).toBeCloseTo(encodeTransfer(times * own[c]!), 9)
        })
      // Never darker than the first code, nor brighter than the last.
      expect(codes(p3, 1e-6)).toEqual([1 / 255, 1 / 255, 1 / 255])
      expect(codes(p3, 50)[0]).toBe(1)
    },
  )

  test.each([
    ['each channel', CHANNEL],
    ['whole pixels', RATIO],
  ])('by a curve on %s that a sweep has found is by the codes that this gives', (_, tone) => {
    const swept = measured(sweep({ tone }))
    const { curve } = swept
    const light = lightOf(curve, [0.7, 0.3, 0.12])
    const linearity = linearityOfSweep('today', swept)
    if (linearity.kind !== 'sweep') throw new Error(linearity.kind)
    const { ownUncertainty } = linearity
    const of = linearityAt(photo(light, linearity), curve)
    for (const red of [0.7, 0.45]) {
      const codes = codesAt(curve, light, red)
      const found = of(colourOf(light, lightFromCode(curve, red) / light[0]))
      const expected = linearityByCurve(curve, 'today', codes, 0)
      if (found.kind !== 'sweep' || expected.kind !== 'sweep') throw new Error(found.kind)
      expect(found.curveId).toBe('today')
      expectClose(found.standardUncertaintyGreen, expected.standardUncertaintyGreen, 1e-3)
      expectClose(found.standardUncertaintyBlue, expected.standardUncertaintyBlue, 1e-3)
      // What is the photo's own stays what it was.
      if (ownUncertainty) expect(found.ownUncertainty).toBe(ownUncertainty)
    }
  })
})

/** Light of these codes: the curve on each channel, or on the brightest with the others in proportion. */
function lightOf(curve: ToneCurve, codes: Triple): Triple {
  if (curve.kind === 'channel') return codes.map((c) => lightFromCode(curve, c)) as never
  const [r] = codes
  const share = (code: number) => (nominal(code) / nominal(r)) * lightFromCode(curve, r)
  return codes.map(share) as never
}
/** The codes of the same colour at this code of red. */
function codesAt(curve: ToneCurve, light: Triple, red: number): Triple {
  const times = lightFromCode(curve, red) / light[0]
  if (curve.kind === 'channel')
    return light.map((value) =>
      codeFor((code) => lightFromCode(curve, code), times * value),
    ) as never
  return light.map((value) => encodeTransfer((value / light[0]) * nominal(red))) as never
}
const nominal = (code: number) => (code <= 0.04045 ? code / 12.92 : ((code + 0.055) / 1.055) ** 2.4)
function codeFor(of: (code: number) => number, wanted: number): number {
  let [low, high] = [0, 1]
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2
    if (of(middle) < wanted) low = middle
    else high = middle
  }
  return low
}
