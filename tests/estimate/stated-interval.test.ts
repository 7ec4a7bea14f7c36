import { expect, test } from 'vitest'
import { colour, reading, reference, STEEL, seen, temperature } from './inputs.ts'

test('the interval ends 1.960 standard uncertainties of the colour away (JCGM 100, table G.1)', () => {
  // A camera known to 4 K, blue that says nothing (the floor lifted it far above what any filter leaks):
  // what is left is the noise of G/R, which is normal.
  const surface = { ...STEEL, standardUncertainty: 0 }
  const references = [1073, 1123, 1173, 1223, 1273].map((t) =>
    reference(t, 0.5, seen(t), { surface }),
  )
  const quality = { ...reading(seen(1173)).quality, floorShare: [0, 0, 0.9] as const }
  const [red, green, blue] = seen(1173).mean
  const at = (greenOverRed: number, relative: number) =>
    temperature(
      reading(colour(greenOverRed, (30 * blue) / red, relative), { references, surface, quality }),
    )
  for (const relative of [0.02, 0.03]) {
    const noisy = at(green / red, relative)
    const noise = noisy.budget.find(({ term }) => term === 'pixel noise')!
    // Two channels of independent noise; what else there is widens by a few percent.
    const others = noisy.standardUncertaintyK / noise.standardUncertaintyK
    const sd = relative * Math.SQRT2 * (green / red) * others
    const [low, high] = noisy.interval95K
    // 0.98 in place of 0.975 would move an end by 1.3 K at the least.
    expect(Math.abs(low - at(green / red - 1.96 * sd, 0.001).temperatureK)).toBeLessThan(0.3)
    expect(Math.abs(high - at(green / red + 1.96 * sd, 0.001).temperatureK)).toBeLessThan(0.3)
  }
})
