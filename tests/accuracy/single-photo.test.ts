/**
 * Single photos with a grey card on curves, leaks and saturations drawn from what cameras have:
 * intervals and bounds hold the truth and are no wider than needed, and the readings neither cold
 * nor hot.
 */
import { describe, expect, test } from 'vitest'
import { testSet } from './cameras.ts'
import type { Random } from './random.ts'
import { singlePhotos } from './single-photo.ts'

const PATIENCE_MS = 240_000

/** Every second camera: they come make by make. */
const someCameras = () => {
  const set = testSet()
  return { ...set, cameras: set.cameras.filter((_, i) => i % 2 === 0) }
}

/** As the estimate's priors have them: leaks even in the logarithm, vivid by 10 % in the mean. */
const drawCamera = (random: Random) => ({
  leak: 1e-5 * 300 ** random.uniform(),
  saturation: Math.exp(0.1 + 0.11 * random.normal()),
})

describe('a single photo with a grey card', () => {
  test.each([
    ['all on each channel', 1],
    ['three in four on each channel, the others keeping hue or ratios', 0.75],
  ] as const)(
    'with curves %s',
    (_, channelShare) => {
      const { coverage95, widthOverRms, biasK, rmsK } = singlePhotos(someCameras(), {
        draws: 1,
        channelShare,
        drawCamera,
      })
      // 78 readings: a coverage of 0.95 is known to 0.025.
      expect(coverage95).toBeGreaterThan(0.9)
      expect(widthOverRms).toBeLessThan(2.8)
      // Measured over all cameras: 0.03 and 0.25.
      expect(Math.abs(biasK)).toBeLessThan(0.3 * Math.sqrt(rmsK ** 2 - biasK ** 2))
    },
    PATIENCE_MS,
  )

  test(
    'too dull to measure gets a bound that holds',
    () => {
      const { rows } = singlePhotos(someCameras(), {
        draws: 1,
        channelShare: 0.75,
        drawCamera,
        temperaturesK: [800, 860, 920],
      })
      const sum = (of: 'bounds' | 'falseBounds') => rows.reduce((all, row) => all + row[of], 0)
      console.info(`${sum('falseBounds')} of ${sum('bounds')} bounds are false`)
      expect(sum('bounds')).toBeGreaterThanOrEqual(8)
      expect(sum('falseBounds') / sum('bounds')).toBeLessThan(0.12)
    },
    PATIENCE_MS,
  )
})
