import { describe, expect, it } from 'vitest'
import { netSignal } from '../../../src/estimate/spectrum/net-signal.ts'
import { USUAL_INSTRUMENT } from '../../../src/estimate/spectrum/types.ts'

/** A sample each nanometre. */
const spectrum = (fromNm: number, toNm: number, signal: (nm: number) => number) => {
  const wavelengthNm = Array.from({ length: toNm - fromNm + 1 }, (_, i) => fromNm + i)
  return { name: null, wavelengthNm, signal: wavelengthNm.map(signal) }
}
/** Counts of a glow, brighter towards the red, and of a dark whose level wanders by a few counts. */
const glow = (nm: number) => 200 + 4 * (nm - 400)
const dark = (nm: number) => 200 + 3 * Math.sin(nm)

const codes = (light: ReturnType<typeof spectrum>, taken: ReturnType<typeof spectrum> | null) =>
  netSignal({ spectrum: light, dark: taken }, USUAL_INSTRUMENT, 'glow').findings.map(
    ({ code }) => code,
  )

describe('light minus dark', () => {
  it('is without findings where the dark is one', () => {
    expect(codes(spectrum(400, 700, glow), spectrum(400, 700, dark))).toEqual([])
  })

  it('says when the two were given the wrong way round', () => {
    expect(codes(spectrum(400, 700, dark), spectrum(400, 700, glow))).toEqual([
      'dark brighter than light',
    ])
  })

  it('takes a line above a zero that lies low for light, not for an exchanged dark', () => {
    const line = (nm: number) => (Math.abs(nm - 589) < 2 ? 900 : 190)
    expect(codes(spectrum(400, 700, line), spectrum(400, 700, dark))).toEqual([])
  })

  it('says when there is none, unless the instrument took it off', () => {
    const light = spectrum(400, 700, glow)
    expect(codes(light, null)).toEqual(['no dark spectrum'])
    const taken = netSignal({ spectrum: light, dark: null }, USUAL_INSTRUMENT, 'glow', true)
    expect(taken.findings).toEqual([])
  })

  it('says when the dark ends more than two samples short, at either end', () => {
    const light = spectrum(400, 700, glow)
    expect(codes(light, spectrum(402, 698, dark))).toEqual([])
    expect(codes(light, spectrum(403, 700, dark))).toEqual(['dark does not cover'])
    expect(codes(light, spectrum(400, 697, dark))).toEqual(['dark does not cover'])
  })
})
