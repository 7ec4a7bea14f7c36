import { describe, expect, it } from 'vitest'
import {
  type TableFault,
  type TransmissionTable,
  windowFromTable,
} from '../../../src/estimate/spectrum/measured-window.ts'
import type { SpectrumWindow } from '../../../src/estimate/spectrum/types.ts'
import {
  fusedSilicaIndex,
  logTransmittance,
  tableErrors,
  windowFromMaterial,
} from '../../../src/estimate/spectrum/windows.ts'
import { normal, planck, seededRandom } from '../../accuracy/spectrum-simulation.ts'
import { expectClose } from '../../close-to.ts'
import { perfect, perfectResponse, read, usual } from './recordings.ts'

const RANGE = { fromNm: 450, toNm: 850 }

/** A made-up pane of green glass, steep towards the violet. */
const green = (nm: number) => 0.9 * Math.exp(-(((nm - 550) / 400) ** 2)) + 0.02
const table = (
  transmission: (nm: number) => number,
  standardUncertainty = 0.005,
  fromNm = 300,
  toNm = 1000,
): TransmissionTable => {
  const wavelengthNm = Array.from({ length: 1 + (toNm - fromNm) / 5 }, (_, i) => fromNm + 5 * i)
  return { wavelengthNm, transmittance: wavelengthNm.map(transmission), standardUncertainty }
}
const windowOf = (of: TransmissionTable): SpectrumWindow => {
  const result = windowFromTable(of, RANGE)
  if (!result.ok) throw new Error(result.fault.code)
  return result.window
}
const faultOf = (of: TransmissionTable): TableFault => {
  const result = windowFromTable(of, RANGE)
  if (result.ok) throw new Error('no fault found')
  return result.fault
}

describe('a measured table of transmission', () => {
  it('is divided out', () => {
    const response = perfectResponse()
    const recording = perfect((nm) => planck(1400)(nm) * green(nm))
    // Without the table it is no glow's shape.
    expect(() => read({ recording, response, range: RANGE })).toThrow('shape')
    // Points 5 nm apart with ln straight between them: the curve departs from a line by less than
    // 1e-4.
    const seen = read({ recording, response, range: RANGE, window: windowOf(table(green)) })
    expectClose(seen.temperatureK, 1400, 2e-5)
  })

  it('keeps what the range needs and judges no more than that', () => {
    const opaqueOutside = (nm: number) => (nm < 440 || nm > 860 ? -0.001 : 0.9)
    const { wavelengthNm } = windowOf(table(opaqueOutside))
    expect(wavelengthNm[0]).toBe(450)
    expect(wavelengthNm.at(-1)).toBe(850)
  })

  it('is refused over 1, below 0, lost in its uncertainty, and where it is too short', () => {
    expect(faultOf(table((nm) => (nm === 600 ? 1.02 : 0.9)))).toEqual({
      code: 'over one',
      atNm: 600,
      value: 1.02,
    })
    expect(faultOf(table((nm) => (nm === 700 ? -0.01 : 0.9)))).toMatchObject({
      code: 'below zero',
      atNm: 700,
    })
    expect(faultOf(table((nm) => (nm === 500 ? 0.014 : 0.9)))).toMatchObject({ code: 'too dark' })
    expect(faultOf(table(() => 0, 0))).toMatchObject({ code: 'too dark' })
    expect(faultOf(table(green, 0.005, 500, 1000))).toEqual({
      code: 'does not cover',
      table: { fromNm: 500, toNm: 1000 },
      used: RANGE,
    })
    expect(faultOf({ ...table(green), wavelengthNm: [], transmittance: [] }).code).toBe(
      'does not cover',
    )
  })

  it('may exceed 1 by what its uncertainty explains', () => {
    expect(
      windowFromTable(
        table((nm) => (nm === 600 ? 1.012 : 0.99)),
        RANGE,
      ).ok,
    ).toBe(true)
    expect(faultOf(table((nm) => (nm === 600 ? 1.016 : 0.99))).code).toBe('over one')
  })

  it('that noise lifts over 1 is divided out like any other', () => {
    const { recording, response } = usual(planck(1400))
    const bare = read({ recording, response, range: RANGE }).temperatureK
    // What is common to all wavelengths falls out of a fit with a free scale.
    const window = windowOf(table(() => 1.01))
    // The errors of the table take up a part of the noise.
    expectClose(read({ recording, response, range: RANGE, window }).temperatureK, bare, 5e-4)
  })

  it('says of a clear pane the same as its refractive index does', () => {
    // Fresnel's reflection of two faces with light going to and fro (Malitson 1965, from memory).
    const clear = (nm: number) => (2 * fusedSilicaIndex(nm)) / (fusedSilicaIndex(nm) ** 2 + 1)
    const { recording, response } = usual((nm) => planck(1400)(nm) * clear(nm))
    const seen = read({ recording, response, window: windowOf(table(clear)), range: RANGE })
    expect(seen.interval95K[0]).toBeLessThan(1400)
    expect(seen.interval95K[1]).toBeGreaterThan(1400)
  })
})

describe('the uncertainty of a measured table', () => {
  const term = (window: SpectrumWindow) => {
    const { recording, response } = usual((nm) => planck(1400)(nm) * green(nm))
    const { budget } = read({ recording, response, window, range: RANGE })
    return budget.find((entry) => entry.term === 'window')?.standardUncertaintyK ?? 0
  }

  it('is the stated one at every wavelength', () => {
    const errors = tableErrors(windowOf(table(green, 0.004)))
    for (let nm = 450; nm <= 850; nm += 5) {
      const sum = errors.reduce((squares, error) => squares + error(nm) ** 2, 0)
      expectClose(Math.sqrt(sum), 0.004 / green(nm), 1e-9)
    }
  })

  it('counts, and not at all where none is stated', () => {
    // Small ones in proportion; large ones share what is left open with the shape of the response.
    const one = term(windowOf(table(green, 0.0002)))
    expectClose(term(windowOf(table(green, 0.0004))), 2 * one, 0.05)
    expect(term(windowOf(table(green, 0)))).toBe(0)
  })

  it('is what smooth errors of another make do to the temperature', () => {
    // Random waves whose errors are correlated over 50 nm and independent beyond 100 nm.
    const random = seededRandom(5)
    const sigma = 0.004
    const { recording, response } = usual((nm) => planck(1400)(nm) * green(nm))
    const shiftK = () => {
      const waves = Array.from({ length: 40 }, () => ({
        perNm: normal(random) / 50,
        phase: 2 * Math.PI * random(),
      }))
      const error = (nm: number) =>
        sigma *
        Math.sqrt(2 / waves.length) *
        waves.reduce((sum, { perNm, phase }) => sum + Math.cos(perNm * nm + phase), 0)
      const window = windowOf(table((nm) => green(nm) + error(nm), sigma))
      const { temperatureK, budget } = read({ recording, response, window, range: RANGE })
      const terms = ['window', 'shape of response and surface']
      const told = budget.filter((one) => terms.includes(one.term))
      return {
        temperatureK,
        toldK: Math.hypot(...told.map((one) => one.standardUncertaintyK)),
      }
    }
    const found = Array.from({ length: 100 }, shiftK)
    const average = (values: readonly number[]) =>
      values.reduce((sum, value) => sum + value, 0) / values.length
    const mean = average(found.map((one) => one.temperatureK))
    const rms = Math.sqrt(average(found.map((one) => (one.temperatureK - mean) ** 2)))
    const told = average(found.map((one) => one.toldK))
    console.info(`table errors of 0.004: rms ${rms.toFixed(2)} K, told ${told.toFixed(2)} K`)
    // 100 draws are good to 7 %. What is told holds the shape of the response too.
    expect(told / rms).toBeGreaterThan(0.85)
    expect(told / rms).toBeLessThan(3)
  })
})

describe('a window of the list', () => {
  it.each([
    // Data sheets of phosphate glass, 2 to 3 mm, from memory: 0.88 at 550 nm, 0.77 at 650 nm.
    ['heat-absorbing', Math.log(0.88 / 0.77), 0.06],
    // Iron in clear float glass, 4 mm, from memory: 0.90 at 550 nm, 0.885 at 650 nm.
    ['glass', Math.log(0.9 / 0.885), 0.015],
    // Fused silica by reflection alone: n = 1.4599 and 1.4565 (Malitson 1965, table).
    ['quartz', Math.log(0.93246 / 0.93322), 0.0002],
  ])('%s passes green and red as its data sheet says', (id, expected, tolerance) => {
    const window = logTransmittance(windowFromMaterial(id))
    expect(Math.abs(window(550) - window(650) - expected)).toBeLessThan(tolerance)
  })
})
