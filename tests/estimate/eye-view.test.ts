import { expect, test } from 'vitest'
import { xyFromXyz, xyzFromXy } from '../../src/colour/chromaticity.ts'
import { colourTemperatureFromXy, planckianXy } from '../../src/colour/planckian-locus.ts'
import { encodeTransfer, linearP3FromXyz, XYZ_FROM_P3 } from '../../src/colour/rgb-spaces.ts'
import { eyeView } from '../../src/estimate/eye-view.ts'
import { ratioCorrection, TONE_CURVES } from '../../src/estimate/tone-curve-prior.ts'
import { type Triple, transform } from '../../src/numerics/matrix3.ts'

const NOTHING = { pixel: 0, balance: 0 }

test('an unknown tone curve moves green and blue together, along the locus rather than across', () => {
  const p3 = linearP3FromXyz(xyzFromXy(planckianXy(2700)))
  const rgb = p3.map((v) => (0.6 * v) / p3[0]) as unknown as Triple
  const storedLevels = rgb.map(encodeTransfer) as unknown as Triple
  const linearity = { kind: 'single', curveId: '', storedLevels, space: 'display-p3' } as const
  const colour = {
    rgb,
    covariance: [
      [0, 0, 0],
      [0, 0, 0],
      [0, 0, 0],
    ],
    green: rgb[1] / rgb[0],
    blue: rgb[2] / rgb[0],
    greenVariance: NOTHING,
    blueVariance: NOTHING,
    lampOnCardK: null,
  } as const
  const eye = eyeView(colour, linearity)!
  // The same by propagation of distributions (JCGM 101): every curve of the prior by itself, the
  // colour it would give, and the spread of those.
  const seen = TONE_CURVES.map((curve) => {
    const { green, blue } = ratioCorrection(curve, storedLevels, 'display-p3')
    const xyz = transform(XYZ_FROM_P3, [rgb[0], rgb[1] * Math.exp(green), rgb[2] * Math.exp(blue)])
    const found = colourTemperatureFromXy(xyFromXyz(xyz)!)
    if (found.kind !== 'near') throw new Error('off the locus')
    return { ...found, weight: curve.weight }
  })
  const spread = (of: 'temperatureK' | 'duv') => {
    const mean = seen.reduce((sum, one) => sum + one.weight * one[of], 0)
    return Math.sqrt(seen.reduce((sum, one) => sum + one.weight * (one[of] - mean) ** 2, 0))
  }
  // The propagation is linear, the contrasts reach from -25 to +80 %: a quarter of the figure may go. As
  // independent errors they would leave Duv seven times as uncertain.
  expect(eye.standardUncertaintyCctK! / spread('temperatureK')).toBeGreaterThan(0.8)
  expect(eye.standardUncertaintyCctK! / spread('temperatureK')).toBeLessThan(1.25)
  expect(eye.standardUncertaintyDuv! / spread('duv')).toBeGreaterThan(0.75)
  expect(eye.standardUncertaintyDuv! / spread('duv')).toBeLessThan(1.5)
})
