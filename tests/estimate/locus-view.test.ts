import { describe, expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import { locusView } from '../../src/estimate/locus-view.ts'
import { expectClose } from '../close-to.ts'
import { colour, DAYLIGHT, reference, salt, seen } from './inputs.ts'

const KIT = {
  channels: 'display-p3',
  cameraToXyz: null,
  balanceState: DAYLIGHT,
  cameraId: 'phone',
  references: [],
} as const
const view = locusView(KIT)
const model = cameraModel(CAMERA_LOCUS, 'display-p3', DAYLIGHT, {
  leak: null,
  rendered: true,
})
const nearest = (kelvin: number) =>
  view.prior.temperatureK.reduce(
    (best, one, i) =>
      Math.abs(one - kelvin) < Math.abs(view.prior.temperatureK[best]! - kelvin) ? i : best,
    0,
  )

describe('the band of cameras in general', () => {
  const { temperatureK, low95, median, high95 } = view.prior

  test('runs from 900 to 3000 K, evenly in 1/T', () => {
    expect(temperatureK[0]).toBeCloseTo(900, 6)
    expect(temperatureK.at(-1)).toBeCloseTo(3000, 6)
    const steps = temperatureK.slice(1).map((to, i) => 1 / temperatureK[i]! - 1 / to)
    for (const step of steps) expectClose(step, steps[0]!, 1e-9)
  })

  test('has the mean camera in its middle and 19 cameras of 20 within', () => {
    for (const i of [nearest(1500), nearest(2000), nearest(2800)]) {
      const { mean, loadings } = model.green(temperatureK[i]!)
      const spread = Math.hypot(...loadings)
      // A leak adds next to nothing where it is hot; of any other number the mean is the middle.
      expect(Math.abs(median[i]! - mean) / spread).toBeLessThan(0.1)
      // Heavy tails of unit variance reach about as far as a normal, 1.96.
      expect((high95[i]! - low95[i]!) / (2 * spread)).toBeGreaterThan(1.9)
      expect((high95[i]! - low95[i]!) / (2 * spread)).toBeLessThan(2.02)
    }
    for (const [i, middle] of median.entries()) {
      expect(low95[i]).toBeLessThan(middle)
      expect(high95[i]).toBeGreaterThan(middle)
    }
  })

  test('is the same for the camera while nothing is known of it', () => {
    expect(view.posterior).toEqual(view.prior)
    expect(view.references).toEqual([])
  })
})

describe('the band of one camera with known heats', () => {
  const offset = 1
  const references = [
    salt(offset),
    reference(1358, 4, seen(1358, offset), {
      surface: { id: 'copper', lnGreenOverRed: 0.05, standardUncertainty: 0.02 },
    }),
    reference(1200, 4, seen(1200), { id: 'of another', cameraId: 'other' }),
  ]
  const known = locusView({ ...KIT, references })

  test('narrows about what was seen of them', () => {
    const at = nearest(1073.6)
    const width = ({ low95, high95 }: typeof known.prior) => high95[at]! - low95[at]!
    expect(known.prior).toEqual(view.prior)
    expect(width(known.posterior)).toBeLessThan(width(known.prior) / 3)
    const there = seen(known.prior.temperatureK[at]!, offset).mean
    expectClose(known.posterior.median[at]!, there[1] / there[0], 0.03)
  })

  test('shows them where their colour stands, and not what does not count', () => {
    expect(known.references.map(({ id }) => id)).toEqual(['at 1073.6', 'at 1358'])
    const [first, second] = known.references
    expectClose(first!.greenOverRed, seen(1073.6, offset).mean[1] / 0.5, 1e-9)
    expect(first!.temperatureK).toBe(1073.6)
    // Bluer than a black body by 0.05 over 100 nm: its colour is that of a hotter one (Wien).
    const scale = 1.4387769e7 * (1 / 550 - 1 / 650)
    expectClose(second!.temperatureK, 1 / (1 / 1358 - 0.05 / scale), 1e-6)
  })

  test('states the noise of their pixels and of their card', () => {
    const noisy = (relative: number) => {
      const glow = colour(0.1, 0.01, relative)
      const shown = locusView({ ...KIT, references: [reference(1100, 4, glow)] })
      return shown.references[0]!.standardUncertainty
    }
    // Of G/R: both channels' noise, and the card's 1e-5 (JCGM 100, eq. 12).
    expectClose(noisy(0.01), 0.1 * Math.sqrt(2 * 0.01 ** 2 + 1e-5), 1e-6)
  })
})

test('raw channels have a band too, of ratios above 0', () => {
  const { prior } = locusView({ ...KIT, channels: 'camera' })
  const raw = cameraModel(CAMERA_LOCUS, 'camera', DAYLIGHT)
  const at = nearest(2000)
  expect(
    Math.abs(Math.log(prior.median[at]!) - raw.green(prior.temperatureK[at]!).mean),
  ).toBeLessThan(0.1)
  for (const low of prior.low95) expect(low).toBeGreaterThan(0)
})
