import { describe, expect, it } from 'vitest'
import { runSpectrumBench, spectrumBenchTable } from './spectrum-bench.ts'
import { USUAL_CONDITIONS } from './spectrum-simulation.ts'

describe('the spectrum bench, in short', () => {
  // 6 draws: enough to notice decay, not to settle the third digit; `npm run accuracy` draws more.
  const result = runSpectrumBench({ draws: 6 })

  it.each(result.summaries.map((summary) => [summary.condition, summary] as const))(
    'holds error, coverage and width: %s',
    (_, { pooled }) => {
      expect(pooled.refused).toBe(0)
      expect(pooled.rmsPercent).toBeLessThan(1)
      expect(pooled.coverage95).toBeGreaterThanOrEqual(0.92)
      expect(pooled.halfWidthOverRms).toBeLessThan(2.8)
    },
  )

  // Signal to noise 89 at the peak and twice the stray light, as the instrument states them.
  const weak = runSpectrumBench({
    draws: 6,
    conditions: { ...USUAL_CONDITIONS, peakElectrons: 2000, strayShare: 0.002 },
  })

  it.each(weak.summaries.map((summary) => [summary.condition, summary] as const))(
    'still covers in weak light: %s',
    (_, { pooled }) => {
      // The error itself is that of the light. 96 cases at 95 % may miss by 2.2 %, one deviation.
      expect(pooled.coverage95).toBeGreaterThanOrEqual(0.89)
      expect(pooled.halfWidthOverRms).toBeLessThan(2.8)
    },
  )

  // Response and surface depart from the model by 2 %, smoothly.
  const shaped = runSpectrumBench({
    draws: 4,
    conditions: { ...USUAL_CONDITIONS, shapeError: 0.02 },
  })

  it.each(shaped.summaries.map((summary) => [summary.condition, summary] as const))(
    'still covers where the shape is off: %s',
    (_, { pooled }) => {
      expect(pooled.refused).toBeLessThanOrEqual(1)
      expect(pooled.coverage95).toBeGreaterThanOrEqual(0.89)
      expect(pooled.halfWidthOverRms).toBeLessThan(2.8)
    },
  )

  it('prints what it was told', () => {
    const table = spectrumBenchTable(result)
    expect(table).toContain('lamp 2700 +- 20 K')
    expect(table.split('\n').length).toBeGreaterThan(20)
  })
})
