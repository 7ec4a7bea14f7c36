import { describe, expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraPosterior } from '../../src/estimate/camera-posterior.ts'
import { glowProblem } from '../../src/estimate/glow-problem.ts'
import { temperatureDistribution } from '../../src/estimate/temperature-distribution.ts'
import { reading, reference, salt, seen } from './inputs.ts'

const FINE = { nodes: 81, between: 16, far: 8 }

describe('the distribution of the temperature', () => {
  test.each([1000, 1173, 1600, 2000, 2700])(
    'is that of far finer steps, at %i K, whatever is known of the camera',
    (kelvin) => {
      const near = reference(kelvin, 4, seen(kelvin), { id: 'near' })
      const lamp = reference(2700, 40, seen(2700), { id: 'lamp' })
      for (const references of [[], [salt()], [salt(), lamp], [near]]) {
        const input = reading(seen(kelvin), { references })
        const posterior = cameraPosterior(glowProblem(input, CAMERA_LOCUS))
        const usual = temperatureDistribution(posterior)
        const fine = temperatureDistribution(posterior, FINE)
        const width = fine.quantile(0.975) - fine.quantile(0.025)
        for (const probability of [0.025, 0.16, 0.5, 0.84, 0.975])
          expect(Math.abs(usual.quantile(probability) - fine.quantile(probability))).toBeLessThan(
            0.02 * width,
          )
      }
    },
  )
})
