import { describe, expect, test } from 'vitest'
import { compareLevels } from '../../src/estimate/level-comparison.ts'
import { expectClose } from '../close-to.ts'

const EXPOSURE = { exposureSeconds: 0.01, iso: 100, fNumber: 2 }
const C2_NM = 1.4387769e7

type Photo = Parameters<typeof compareLevels>[0]
type Known = Parameters<typeof compareLevels>[1]

const photo = (level: number, relative = 0.01, change: Partial<Photo> = {}): Photo => ({
  red: { level: { value: level, standardUncertainty: relative * level }, exposure: EXPOSURE },
  linear: true,
  widthPixels: 100,
  materialId: 'steel-oxidised',
  ...change,
})
const known = (level: number, relative = 0.01, change: Partial<Photo> = {}): Known => ({
  ...photo(level, relative, change),
  temperature: { value: 1200, standardUncertainty: 0 },
})
const compared = (glow: Photo, reference: Known) => {
  const found = compareLevels(glow, reference)
  if (!found) throw new Error('nothing to compare')
  return found
}
const part = ({ found }: ReturnType<typeof compared>, term: string) =>
  found.contributions.find((one) => one.code === term)?.standardUncertainty ?? 0

describe('the level of red against that of a known temperature', () => {
  test('rises as Wien says of red: twice as bright', () => {
    const { found, hotter } = compared(photo(0.4), known(0.2))
    // 1/T = 1/1200 K - ln 2 λ/c2; the mean of red of measured cameras lies between 600 and 640 nm.
    const at = (nm: number) => 1 / (1 / 1200 - (Math.LN2 * nm) / C2_NM)
    expect(found.temperatureK).toBeGreaterThan(at(600))
    expect(found.temperatureK).toBeLessThan(at(640))
    // The same surface at both.
    expect(Math.abs(found.temperatureK - 1200 - hotter.value)).toBeLessThan(1)
    expect(compared(photo(0.2), known(0.2)).hotter.value).toBeCloseTo(0, 6)
  })

  test('is one of light: half of it in half the time is as hot', () => {
    const half = { ...EXPOSURE, exposureSeconds: 0.005 }
    const red = { level: { value: 0.1, standardUncertainty: 0.001 }, exposure: half }
    const { found, hotter } = compared({ ...photo(0.1), red }, known(0.2))
    expect(found.temperatureK).toBeCloseTo(1200, 6)
    expect(hotter.value).toBeCloseTo(0, 6)
    // Two settings: 5 % between their labels (common practice) beside a hundredth of each level.
    const same = compared(photo(0.2), known(0.2)).hotter.standardUncertainty
    expectClose(
      hotter.standardUncertainty / same,
      Math.hypot(0.05, 0.01, 0.01) / 0.01 / Math.SQRT2,
      2e-3,
    )
  })

  test('errs by both levels (JCGM 100, 5.1.2)', () => {
    const u = (glow: number, reference: number) =>
      compared(photo(0.2, glow), known(0.2, reference)).hotter.standardUncertainty
    expectClose(u(0.03, 0.04), u(0.05, 0), 1e-6)
    // A hundredth of light is T² λ / c2 of it: 0.62 K at 1200 K and 620 nm.
    expectClose(u(0.01, 0), (0.01 * 1200 ** 2 * 620) / C2_NM, 0.03)
  })

  test('of a photo with an unknown tone curve errs by 0.17 of how far the levels are apart', () => {
    for (const [glow, reference] of [
      [false, true],
      [true, false],
    ] as const) {
      const bent = compared(
        photo(0.4, 0.01, { linear: glow }),
        known(0.2, 0.01, { linear: reference }),
      )
      expect(bent.curveUnknown).toBe(true)
      const straight = compared(photo(0.4), known(0.2))
      expect(straight.curveUnknown).toBe(false)
      // A contrast known to 17 %, as that of cameras is; over an eighth of light Wien's line bends a little.
      const factor = Math.hypot(0.01, 0.17 * Math.LN2) / 0.01
      expectClose(part(bent, 'level') / part(straight, 'level'), factor, 1e-2)
      const darker = compared(
        photo(0.1, 0.01, { linear: glow }),
        known(0.2, 0.01, { linear: reference }),
      )
      expectClose(
        part(darker, 'level') / part(compared(photo(0.1), known(0.2)), 'level'),
        factor,
        1e-2,
      )
    }
  })

  test('errs by the emissivity only where the surfaces are two', () => {
    const one = compared(photo(0.3), known(0.2))
    const two = compared(photo(0.3), known(0.2, 0.01, { materialId: 'steel-clean' }))
    expect(part(one, 'emissivity')).toBeLessThan(part(two, 'emissivity'))
    expect(part(one, 'reference emissivity')).toBeLessThan(part(two, 'reference emissivity'))
  })

  test('is told as thin below twice the blur of 4 pixels, which keeps 98 %', () => {
    // erf(width / (2 sqrt 2 sigma)), sigma = 4 / 2.355: 0.977 of 7.7 pixels, 0.984 of 8.2.
    const thin = (widthPixels: number) =>
      compared(photo(0.3, 0.01, { widthPixels }), known(0.2)).thin
    expect([7.7, 8.2].map(thin)).toEqual([true, false])
  })

  test('says nothing of a surface without a table, or without light', () => {
    expect(compareLevels(photo(0.3, 0.01, { materialId: 'nothing' }), known(0.2))).toBeNull()
    expect(compareLevels(photo(0.3), known(0.2, 0.01, { materialId: 'nothing' }))).toBeNull()
    expect(compareLevels(photo(0), known(0.2))).toBeNull()
  })
})
