import { expect, test } from 'vitest'
import { instrumentSigns } from '../../../src/estimate/spectrum/same-instrument.ts'
import type { InstrumentResponse } from '../../../src/estimate/spectrum/types.ts'

/** A sample each nanometre. */
const reference = Array.from({ length: 301 }, (_, i) => 400 + i)
const signs = (wavelengthNm: readonly number[], of = reference, largest = 100) =>
  instrumentSigns(
    { spectrum: { name: null, wavelengthNm, signal: wavelengthNm.map(() => largest) }, dark: null },
    {
      lamp: { emitter: 'surface' },
      wavelengthNm: of,
      recordedAs: { heading: null, largest: 100 },
    } as unknown as InstrumentResponse,
  )
const shifted = (byNm: number) => reference.map((nm) => nm + byNm)

test('a spectrum cropped, or of every second sample, is of the same instrument', () => {
  expect(signs(reference.slice(40, 200))).toEqual([])
  expect(signs(reference.filter((_, i) => i % 2 === 0))).toEqual([])
})

test('wavelengths may differ by a tenth of a step, up or down, and not by more', () => {
  for (const byNm of [-0.095, 0.095]) expect(signs(shifted(byNm)), `${byNm} nm`).toEqual([])
  for (const byNm of [-0.105, 0.105])
    expect(signs(shifted(byNm)), `${byNm} nm`).toEqual(['wavelengths'])
  expect(signs(shifted(0.5).slice(1))).toEqual(['wavelengths', 'number of samples'])
})

test('on a fine grid they may differ by 0.02 nm, as files round them', () => {
  const fine = Array.from({ length: 301 }, (_, i) => 400 + 0.1 * i)
  const by = (nm: number) =>
    signs(
      fine.map((at) => at + nm),
      fine,
    )
  expect(by(0.0195)).toEqual([])
  expect(by(0.0205)).toEqual(['wavelengths'])
})

test('one sample in twenty may lie elsewhere', () => {
  const moved = (count: number) =>
    signs(reference.map((nm, i) => (i >= 100 && i < 100 + count ? nm + 0.3 : nm)))
  // Of 301.
  expect(moved(15)).toEqual([])
  expect(moved(16)).toEqual(['wavelengths'])
})

test('counts go beyond 20, what is scaled to one does not', () => {
  expect(signs(reference, reference, 20.5)).toEqual([])
  expect(signs(reference, reference, 19.5)).toEqual(['size of signal'])
})
