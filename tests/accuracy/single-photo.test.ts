/**
 * Single photos with a grey card on curves, leaks and saturations drawn from what cameras have:
 * intervals and bounds hold the truth and are no wider than needed, and the readings neither cold
 * nor hot.
 */
import { beforeAll, describe, expect, test } from 'vitest'
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
  const SHARES = [
    ['all on each channel', 1],
    ['three in four on each channel, the others keeping hue or ratios', 0.75],
  ] as const
  let read: ReturnType<typeof singlePhotos>
  beforeAll(() => {
    const channelShares = SHARES.map(([, share]) => share)
    read = singlePhotos(someCameras(), { draws: 1, channelShares, drawCamera })
  }, PATIENCE_MS)

  test.each(SHARES.map(([name], i) => [name, i] as const))('with curves %s', (name, i) => {
    const { coverage95, widthOverRms, biasK, rmsK } = read[i]!
    console.log(
      `single photos, ${name}: coverage ${coverage95.toFixed(3)}, half-width / rms ${widthOverRms.toFixed(2)}, ` +
        `mean error ${biasK.toFixed(0)} K, rms ${rmsK.toFixed(0)} K`,
    )
    // 78 readings: a coverage of 0.95 is known to 0.025.
    expect(coverage95).toBeGreaterThan(0.9)
    expect(widthOverRms).toBeLessThan(2.8)
    // Measured: 0.03 and 0.27.
    expect(Math.abs(biasK)).toBeLessThan(0.3 * Math.sqrt(rmsK ** 2 - biasK ** 2))
  })

  test(
    'too dull to measure gets a bound that holds, or an interval that reaches below the range',
    () => {
      const [dull] = singlePhotos(someCameras(), {
        draws: 1,
        channelShares: [0.75],
        drawCamera,
        temperaturesK: [800, 860],
      })
      const { rows, coverage95 } = dull!
      const sum = (of: 'bounds' | 'falseBounds') => rows.reduce((all, row) => all + row[of], 0)
      expect(sum('bounds')).toBeGreaterThanOrEqual(6)
      expect(sum('falseBounds') / sum('bounds')).toBeLessThan(0.12)
      expect(coverage95).toBeGreaterThan(0.85)
    },
    PATIENCE_MS,
  )
})
