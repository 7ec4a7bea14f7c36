import { describe, expect, test } from 'vitest'
import { responseFromCalibration } from '../../../src/estimate/spectrum/calibration.ts'
import type { FitPoints } from '../../../src/estimate/spectrum/fit-points.ts'
import { isPossibleLamp } from '../../../src/estimate/spectrum/lamp.ts'
import { spectrumPeaks } from '../../../src/estimate/spectrum/peaks.ts'
import { USUAL_INSTRUMENT } from '../../../src/estimate/spectrum/types.ts'

describe('a reference', () => {
  const possible = (emitter: 'tungsten' | 'black body') => (colourTemperatureK: number) =>
    isPossibleLamp({ emitter, colourTemperatureK, standardUncertaintyK: 20 } as never)

  test('of tungsten glows white, and has not melted: 1500 to 3600 K', () => {
    expect([1450, 1550, 3550, 3650].map(possible('tungsten'))).toEqual([false, true, true, false])
  })

  test('of anything else is seen by a detector, and is solid: 700 to 4000 K', () => {
    expect([680, 720, 3900, 4100].map(possible('black body'))).toEqual([false, true, true, false])
  })
})

test('a calibrated file is trusted where lamps’ glass passes and silicon sees, to 1050 nm', () => {
  const wavelengthNm = Array.from({ length: 850 }, (_, i) => 350 + i)
  const found = responseFromCalibration(
    { spectrum: { name: null, wavelengthNm, signal: wavelengthNm.map(() => 1) }, dark: null },
    { emitter: 'calibration', quantity: 'power' } as never,
    USUAL_INSTRUMENT,
  )
  if (!found.ok) throw new Error(found.code)
  // Band gap of silicon, 1.12 eV: 1107 nm; thin detectors end sooner (common practice).
  expect(found.response.range).toMatchObject({ fromNm: 415, toNm: 1050 })
})

describe('a peak', () => {
  /** Even light with bumps of so much at 450, 500 ... nm, and a ripple from one bin to the next. */
  const peaks = (heights: readonly number[], ripple = 0) => {
    const nm = Float64Array.from({ length: 1000 }, (_, i) => 400 + i / 2)
    const signal = nm.map((at) => {
      const bump = heights.reduce(
        (sum, height, i) => sum + height * Math.exp(-0.5 * ((at - 450 - 60 * i) / 12) ** 2),
        0,
      )
      return 1 + bump + (Math.floor(at / 5) % 2 === 0 ? ripple : -ripple)
    })
    return spectrumPeaks({ nm, signal, logFactor: new Float64Array(1000) } as unknown as FitPoints)
  }
  test('rises by 0.12 of the largest light', () => {
    // A bump on light of 1, as a share of both.
    const at = (height: number) => peaks([height / (1 - height)]).length
    // The mean of a bin is a little lower than its middle.
    expect([0.117, 0.127].map(at)).toEqual([0, 1])
  })

  test('is one of six at most, the highest', () => {
    const found = peaks([1, 2, 3, 4, 5, 6, 7, 8])
    expect(found).toHaveLength(6)
    expect(Math.min(...found.map(({ height }) => height))).toBeGreaterThan(0.2)
  })
})
