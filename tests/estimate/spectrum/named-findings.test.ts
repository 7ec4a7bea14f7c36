import { describe, expect, test } from 'vitest'
import { fitPoints } from '../../../src/estimate/spectrum/fit-points.ts'
import { fitSpectrum } from '../../../src/estimate/spectrum/fit-spectrum.ts'
import { netSignal } from '../../../src/estimate/spectrum/net-signal.ts'
import { MIRED, PEDESTAL, TILT } from '../../../src/estimate/spectrum/planck-fit.ts'
import { SAME_INSTRUMENT } from '../../../src/estimate/spectrum/shape-error.ts'
import { KNOWN_GREY } from '../../../src/estimate/spectrum/surface.ts'
import { takeInstrumentOut } from '../../../src/estimate/spectrum/take-instrument-out.ts'
import { temperatureFromSpectrum } from '../../../src/estimate/spectrum/temperature.ts'
import { planck } from '../../accuracy/spectrum-simulation.ts'
import { expectClose } from '../../close-to.ts'
import { perfect, perfectResponse, usual } from './recordings.ts'

const KELVIN = 1500
const UNSURE = { ...KNOWN_GREY, standardUncertainty: 0.03 }
const response = perfectResponse()

/** Halves what lies between until the two sides of a limit are near. */
function about(below: number, above: number, isAbove: (at: number) => boolean, steps = 6) {
  let [low, high] = [below, above]
  for (let i = 0; i < steps; i++) {
    const middle = (low + high) / 2
    if (isAbove(middle)) high = middle
    else low = middle
  }
  expect([isAbove(low), isAbove(high)]).toEqual([false, true])
  return [low, high] as const
}

describe('both sides of what is named of a spectrum', () => {
  const told = (light: (nm: number) => number, surface = KNOWN_GREY) =>
    temperatureFromSpectrum({
      recording: perfect(light),
      response,
      surface,
      window: null,
      range: null,
      ratioNm: null,
      statedGlow: true,
    })

  test('a shape that departs by 0.03 is named, with its size', () => {
    const at = (height: number) =>
      told((nm) => planck(KELVIN)(nm) * (1 + height * Math.sin(nm / 45)))
    // Far above it is no glow any more.
    const isNamed = (height: number) => {
      const found = at(height)
      return !found.ok || found.findings.some(({ code }) => code === 'shape misfit')
    }
    for (const height of about(0.005, 0.06, isNamed)) {
      const found = at(height)
      if (!found.ok) throw new Error(found.code)
      expectClose(found.shapeSizes.smooth, 0.03, 0.1)
      for (const finding of found.findings)
        if (finding.code === 'shape misfit') expect(finding.share).toBe(found.shapeSizes.smooth)
    }
  })

  test('a slope two and a half standard uncertainties from its prior is named, with how far', () => {
    const at = (slope: number) =>
      told((nm) => planck(KELVIN)(nm) * Math.exp((slope * (600 - nm)) / 100), UNSURE)
    for (const sign of [-1, 1]) {
      const named = (slope: number) => {
        const found = at(sign * slope)
        if (!found.ok) return null
        return found.findings.find(({ code }) => code === 'slope far from prior')
      }
      for (const slope of about(0.03, 0.4, (one) => named(one) !== undefined)) {
        const found = at(sign * slope)
        if (!found.ok) throw new Error(found.code)
        expectClose(found.lnGreenOverRed / UNSURE.standardUncertainty, sign * 2.5, 0.1)
        const finding = named(slope)
        if (finding?.code === 'slope far from prior')
          expectClose(finding.standardised, found.lnGreenOverRed / UNSURE.standardUncertainty, 1e-9)
      }
    }
  })
})

describe('a spectrum with the instrument taken out', () => {
  const { recording, response: by } = usual(planck(KELVIN))
  const glow = netSignal(recording, by.instrument, 'glow', false)
  const points = fitPoints(glow, by, by.range, null)
  const { fit } = fitSpectrum(points, {
    glow,
    response: by,
    surface: UNSURE,
    window: null,
    otherInstrument: false,
    shape: SAME_INSTRUMENT,
  })!
  const { corrected, fittedRadiance, hotter, zeroErrors } = takeInstrumentOut(points, fit, UNSURE)
  const kelvin = 1e6 / fit.mired
  const planckWithSlope = (nm: number) =>
    planck(kelvin)(nm) * Math.exp((fit.slope * (600 - nm)) / 100)
  const top = Math.max(...corrected.wavelengthNm.map(planckWithSlope))

  test('lies about the fit, which is Planck’s law with its slope, 1 at most', () => {
    corrected.wavelengthNm.forEach((nm, i) => {
      expectClose(corrected.fit[i]!, planckWithSlope(nm) / top, 1e-9)
      expectClose(fittedRadiance(nm), planckWithSlope(nm) / top, 1e-9)
    })
    expect(Math.max(...corrected.fit)).toBeCloseTo(1, 12)
    // Departures of the response, a hundredth or two, stay in it.
    const bright = corrected.fit.flatMap((value, i) => (value > 0.3 ? i : []))
    for (const i of bright)
      expect(Math.abs(corrected.radiance[i]! / corrected.fit[i]! - 1)).toBeLessThan(0.1)
    const mean = bright.reduce((sum, i) => sum + corrected.radiance[i]! / corrected.fit[i]!, 0)
    expect(Math.abs(mean / bright.length - 1)).toBeLessThan(0.03)
  })

  test('scatters by its noise', () => {
    // Neighbours share all but noise; a response that was smoothed is quieter than it says.
    let [squares, variances] = [0, 0]
    for (let i = 2; i < corrected.radiance.length; i++) {
      const ratio = (k: number) => corrected.radiance[k]! / corrected.fit[k]!
      squares += (ratio(i) - 2 * ratio(i - 1) + ratio(i - 2)) ** 2 * corrected.fit[i]! ** 2
      variances += 6 * corrected.sigma[i]! ** 2
    }
    expect(Math.sqrt(squares / variances)).toBeGreaterThan(0.5)
    expect(Math.sqrt(squares / variances)).toBeLessThan(1.2)
  })

  test('one standard uncertainty hotter is the fit of that temperature', () => {
    const u = (Math.sqrt(fit.covariance[MIRED]![MIRED]!) * kelvin) / fit.mired
    for (const nm of [400, 550, 700])
      expectClose(
        hotter(nm) / fittedRadiance(nm),
        planck(kelvin + u)(nm) / planck(kelvin)(nm),
        1e-6,
      )
  })

  test('has a zero that is open by its height and its tilt, over what a signal is there', () => {
    const [even, tilted] = zeroErrors
    const perSignal = (i: number) =>
      (corrected.fit[i]! / fit.glow[i]!) * Math.exp(fit.departure[i]!)
    const last = points.nm.length - 1
    for (const i of [0, 10, last])
      expectClose(even![i]!, Math.sqrt(fit.covariance[PEDESTAL]![PEDESTAL]!) * perSignal(i), 1e-9)
    const open = Math.sqrt(fit.covariance[TILT]![TILT]!)
    expectClose(tilted![0]!, -open * perSignal(0), 1e-9)
    expectClose(tilted![last]!, open * perSignal(last), 1e-9)
  })
})
