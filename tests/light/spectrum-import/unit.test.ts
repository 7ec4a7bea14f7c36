import { expect, test } from 'vitest'
import { isPossibleNm, WAVELENGTH_RANGE_NM } from '../../../src/light/spectrum-import/unit.ts'

test('wavelengths up to both limits, and these too, can be those of a spectrum', () => {
  const [least, most] = WAVELENGTH_RANGE_NM
  expect([least, most, (least + most) / 2].map(isPossibleNm)).toEqual([true, true, true])
  expect([least - 0.001, most + 0.001, Number.NaN].map(isPossibleNm)).toEqual([false, false, false])
})
