import { expect, test } from 'vitest'
import { instrumentSigns } from '../../../src/estimate/spectrum/same-instrument.ts'
import type { InstrumentResponse } from '../../../src/estimate/spectrum/types.ts'

/** A sample each nanometre. */
const reference = Array.from({ length: 301 }, (_, i) => 400 + i)
const signs = (wavelengthNm: readonly number[]) =>
  instrumentSigns(
    { spectrum: { name: null, wavelengthNm, signal: wavelengthNm.map(() => 100) }, dark: null },
    { lamp: { emitter: 'surface' }, wavelengthNm: reference } as unknown as InstrumentResponse,
  )
const shifted = (byNm: number) => reference.map((nm) => nm + byNm)

test('a spectrum cropped, or of every second sample, is of the same instrument', () => {
  expect(signs(reference.slice(40, 200))).toEqual([])
  expect(signs(reference.filter((_, i) => i % 2 === 0))).toEqual([])
})

test('wavelengths may differ by a tenth of a step, up or down, and not by more', () => {
  for (const byNm of [-0.09, 0.09]) expect(signs(shifted(byNm)), `${byNm} nm`).toEqual([])
  for (const byNm of [-0.2, 0.2])
    expect(signs(shifted(byNm)), `${byNm} nm`).toEqual(['wavelengths'])
  expect(signs(shifted(0.5).slice(1))).toEqual(['wavelengths', 'number of samples'])
})
