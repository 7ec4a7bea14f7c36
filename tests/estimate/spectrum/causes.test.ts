import { describe, expect, test } from 'vitest'
import { binsOf } from '../../../src/estimate/spectrum/bins.ts'
import { spectrumBudget } from '../../../src/estimate/spectrum/budget.ts'
import { causesOf } from '../../../src/estimate/spectrum/causes.ts'
import { fitPoints } from '../../../src/estimate/spectrum/fit-points.ts'
import { fitSpectrum } from '../../../src/estimate/spectrum/fit-spectrum.ts'
import { withKnownSlope } from '../../../src/estimate/spectrum/known-slope.ts'
import { netSignal } from '../../../src/estimate/spectrum/net-signal.ts'
import { MIRED, SLOPE } from '../../../src/estimate/spectrum/planck-fit.ts'
import { OTHER_INSTRUMENT, SAME_INSTRUMENT } from '../../../src/estimate/spectrum/shape-error.ts'
import { KNOWN_GREY } from '../../../src/estimate/spectrum/surface.ts'
import type {
  InstrumentResponse,
  SpectrumSurface,
  SpectrumTerm,
  SpectrumWindow,
} from '../../../src/estimate/spectrum/types.ts'
import { planck } from '../../accuracy/spectrum-simulation.ts'
import { expectClose } from '../../close-to.ts'
import { usual } from './recordings.ts'

const KELVIN = 1400
const LAMP_K = 2800
const { recording, response } = usual(planck(KELVIN))
const glow = netSignal(recording, response.instrument, 'glow', false)
const UNSURE: SpectrumSurface = { ...KNOWN_GREY, standardUncertainty: 0.03 }

interface Given {
  readonly by?: InstrumentResponse
  readonly surface?: SpectrumSurface
  readonly window?: SpectrumWindow | null
  readonly other?: boolean
  readonly hidden?: number
}
function causes({
  by = response,
  surface = KNOWN_GREY,
  window = null,
  other = false,
  hidden = 0,
}: Given) {
  const points = fitPoints(glow, by, by.range, window)
  const bins = binsOf(points.nm)
  const list = causesOf(points, bins, by, surface, window, KELVIN, other, hidden)
  return {
    bins,
    points,
    of: (term: SpectrumTerm) => list.filter((one) => one.term === term).map(({ change }) => change),
    terms: new Set(list.map(({ term }) => term)),
  }
}
/** Green over red, straight in wavelength: 1 from 550 to 650 nm. */
const straight = (nm: number) => (600 - nm) / 100
/** The same straight in 1/wavelength. */
const inverse = (nm: number) => (1 / nm - 1 / 600) / (1 / 550 - 1 / 650)
const lnPlanck = (nm: number, kelvin: number) => Math.log(planck(kelvin)(nm))

/** Each bin's change within a share of the largest. */
function expectChange(
  change: Float64Array | undefined,
  nm: Float64Array,
  of: (nm: number) => number,
  share = 1e-6,
) {
  const expected = nm.map(of)
  const most = Math.max(...expected.map(Math.abs))
  expect(change).toBeDefined()
  change?.forEach((value, b) => {
    expect(Math.abs(value - expected[b]!)).toBeLessThan(share * most)
  })
}

describe('what one standard uncertainty does to the signal', () => {
  const plain = causes({})

  test('only what may be off is a cause', () => {
    expect(plain.terms).toEqual(
      new Set(['lamp temperature', 'stray light', 'linearity', 'wavelength scale']),
    )
  })

  test('of the lamp’s temperature', () => {
    // Over a bin of 5 nm it runs straight.
    expectChange(
      plain.of('lamp temperature')[0],
      plain.bins.nm,
      (nm) => lnPlanck(nm, LAMP_K + 10) - lnPlanck(nm, LAMP_K - 10),
      1e-3,
    )
  })

  test('of the wavelength scale: what glow and lamp have by it not in common, and what it drifts', () => {
    const { wavelengthUncertaintyNm: u, wavelengthDriftNm: drift } = response.instrument
    const [scale, drifted] = plain.of('wavelength scale')
    const slope = (kelvin: number, nm: number) =>
      lnPlanck(nm + 0.5, kelvin) - lnPlanck(nm - 0.5, kelvin)
    expectChange(scale, plain.bins.nm, (nm) => u * (slope(KELVIN, nm) - slope(LAMP_K, nm)), 1e-4)
    // The response's own slope: by it the whole bin moves.
    const { nm } = plain.bins
    const middle = Math.floor(nm.length / 2)
    const at = (wavelength: number) => {
      const i = response.wavelengthNm.findIndex((one) => one >= wavelength)
      return Math.log(response.response[i]!)
    }
    const expected = (drift * (at(nm[middle]! + 10) - at(nm[middle]! - 10))) / 20
    expect(Math.abs(drifted![middle]! - expected)).toBeLessThan(0.3 * Math.abs(expected) + 1e-4)
  })

  test('of a detector that is not straight: bend of the glow less that of the lamp', () => {
    const [bend] = plain.of('linearity')
    const { points, bins } = plain
    points.nm.forEach((_, i) => {
      expect(points.bend[i]!).toBeLessThanOrEqual(0.005)
      expect(points.bend[i]!).toBeGreaterThanOrEqual(-0.005)
    })
    const brightest = points.signal.indexOf(Math.max(...points.signal))
    const b = bins.start.findIndex((from) => from > brightest) - 1
    const lampShare =
      1 /
      response.lampPeakOverSignal[
        response.wavelengthNm.findIndex((nm) => nm >= points.nm[brightest]!)
      ]!
    // Common practice after the maker's own correction: half a hundredth at the largest signal.
    expect(bend![b]! / 0.005).toBeGreaterThan(1 - lampShare - 0.05)
    expect(bend![b]! / 0.005).toBeLessThan(1 - lampShare + 0.05)
  })

  test('of stray light in the lamp, even and tilted by 0.3 of itself at either end', () => {
    const [even, tilted] = plain.of('stray light')
    const { mean, standardUncertainty } = response.pedestal
    const uneven = (0.3 * Math.hypot(mean, standardUncertainty)) / standardUncertainty
    const { nm } = plain.bins
    expect(even!.every((value) => value > 0)).toBe(true)
    expectClose(tilted![0]! / even![0]!, -uneven, 1e-6)
    expectClose(tilted!.at(-1)! / even!.at(-1)!, uneven, 1e-6)
    const middle = (nm[0]! + nm.at(-1)!) / 2
    const near = nm.findIndex((at) => at >= middle)
    expect(Math.abs(tilted![near]! / even![near]!)).toBeLessThan(0.1)
  })

  test('of how a stated slope bows: anything from straight in wavelength to straight in its inverse', () => {
    const { of, bins } = causes({ surface: UNSURE })
    const bow = (u: number) => (nm: number) => (u * (inverse(nm) - straight(nm))) / Math.sqrt(3)
    expectChange(of('surface')[0], bins.nm, bow(0.03))
    const lamp = {
      emitter: 'surface',
      surface: { ...KNOWN_GREY, standardUncertainty: 0.05 },
      temperatureK: LAMP_K,
      standardUncertaintyK: 20,
    } as const
    const hot = causes({ by: { ...response, lamp } })
    expectChange(hot.of('reference surface')[0], hot.bins.nm, (nm) => 0.05 * straight(nm))
    expectChange(hot.of('reference surface')[1], hot.bins.nm, bow(0.05))
  })

  test('of a pane, by its slope and by each part of its table', () => {
    const window = {
      wavelengthNm: [400, 800],
      transmittance: [0.5, 0.9],
      standardUncertainty: 0.02,
      transmittanceUncertainty: 0.01,
    }
    const { of, bins } = causes({ window })
    const [slope, ...table] = of('window')
    expectChange(slope, bins.nm, (nm) => 0.02 * straight(nm))
    bins.nm.forEach((nm, b) => {
      const transmittance = 0.5 * (0.9 / 0.5) ** ((Math.min(Math.max(nm, 400), 800) - 400) / 400)
      expectClose(Math.hypot(...table.map((one) => one[b]!)), 0.01 / transmittance, 1e-3)
    })
  })

  test('of a slope that nobody stated, and of another instrument’s', () => {
    const { of, bins } = causes({ hidden: 0.04, other: true })
    const bow = (u: number) => (nm: number) => u * (inverse(nm) - straight(nm))
    const [slope, bowed] = of('shape of response and surface')
    expectChange(slope, bins.nm, (nm) => 0.04 * straight(nm))
    expectChange(bowed, bins.nm, bow(0.04 / Math.sqrt(3)))
    // Half of the signal over 250 nm: 0.3 of ln over 100 nm (common practice).
    const [other, otherBow] = of('another instrument')
    expectChange(other, bins.nm, (nm) => 0.3 * straight(nm))
    expectChange(otherBow, bins.nm, bow(0.3))
  })
})

describe('the budget of a fit', () => {
  const fittedBy = (surface: SpectrumSurface, other = false) => {
    const points = fitPoints(glow, response, response.range, null)
    return fitSpectrum(points, {
      glow,
      response,
      surface,
      window: null,
      otherInstrument: other,
      shape: other ? OTHER_INSTRUMENT : SAME_INSTRUMENT,
    })!
  }
  const unsure = fittedBy(UNSURE)
  const part = ({ fit, causes }: ReturnType<typeof fittedBy>, of: SpectrumTerm) =>
    spectrumBudget(fit, causes).contributions.find(({ term }) => term === of)
      ?.standardUncertaintyK ?? 0

  test('adds up to the variance of 1/T in the covariance, whatever is open', () => {
    for (const fitted of [unsure, fittedBy(KNOWN_GREY), fittedBy(UNSURE, true)]) {
      const { fit } = fitted
      const { mired, standardUncertaintyK, contributions } = spectrumBudget(fit, fitted.causes)
      expectClose(mired ** 2, fit.covariance[MIRED]![MIRED]!, 1e-6)
      expectClose(standardUncertaintyK, (mired * 1e6) / fit.mired ** 2, 1e-12)
      const squares = contributions.reduce((sum, one) => sum + one.standardUncertaintyK ** 2, 0)
      expectClose(Math.sqrt(squares), standardUncertaintyK, 1e-9)
      const sizes = contributions.map((one) => one.standardUncertaintyK)
      expect(sizes).toEqual(sizes.toSorted((a, b) => b - a))
    }
  })

  test('puts each cause under its name', () => {
    // 1/T of the lamp for 1/T of the glow: 20 K at 2800 K are 5 K at 1400 K.
    expectClose(part(unsure, 'lamp temperature'), 5, 0.05)
    // 0.03 of ln(green/red) is T² / (c2 (1/550 nm - 1/650 nm)) of it, weighed over a wider range.
    const pair = (0.03 * KELVIN ** 2) / (1.4387769e7 * (1 / 550 - 1 / 650))
    expect(part(unsure, 'surface') / pair).toBeGreaterThan(0.5)
    expect(part(unsure, 'surface') / pair).toBeLessThan(1.2)
    expect(part(fittedBy(KNOWN_GREY), 'surface')).toBeLessThan(1e-3)
    expect(part(unsure, 'noise')).toBeGreaterThan(0.05)
    expect(part(unsure, 'another instrument')).toBe(0)
    expect(part(fittedBy(UNSURE, true), 'another instrument')).toBeGreaterThan(10)
  })

  test('with the slope for certain is that of a fit that never had it open', () => {
    const known = withKnownSlope(unsure.fit, 0)
    expect(known.slope).toBe(0)
    expect(known.covariance[SLOPE]![SLOPE]!).toBeCloseTo(0, 12)
    const never = fittedBy(KNOWN_GREY)
    const u = (fit: typeof known) => Math.sqrt(fit.covariance[MIRED]![MIRED]!)
    // The bow of a slope stays open in the first.
    expectClose(u(known), u(never.fit), 0.1)
    expect(Math.abs(known.mired - never.fit.mired)).toBeLessThan(0.3 * u(never.fit))
    // A slope of 0.05 more is as much hotter as two-colour pyrometry says, and in line with none.
    const steeper = withKnownSlope(unsure.fit, 0.05)
    expect(steeper.mired).toBeGreaterThan(known.mired)
    expectClose(
      (steeper.mired - known.mired) / 0.05,
      unsure.fit.covariance[SLOPE]![MIRED]! / unsure.fit.covariance[SLOPE]![SLOPE]!,
      1e-9,
    )
  })
})
