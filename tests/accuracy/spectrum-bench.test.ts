import { describe, expect, it } from 'vitest'
import { runSpectrumBench, spectrumBenchTable } from './spectrum-bench.ts'

describe('the spectrum bench, in short', () => {
  // 6 draws: enough to notice decay, not to settle the third digit; `npm run accuracy` draws more.
  const result = runSpectrumBench({ draws: 6 })

  it.each(result.summaries.map((summary) => [summary.condition, summary] as const))(
    'holds error, coverage and width: %s',
    (_, { pooled }) => {
      expect(pooled.refused).toBe(0)
      expect(pooled.rmsPercent).toBeLessThan(1)
      expect(pooled.coverage95).toBeGreaterThanOrEqual(0.92)
      expect(pooled.halfWidthOverRms).toBeLessThan(2.7)
    },
  )

  it('prints what it was told', () => {
    const table = spectrumBenchTable(result)
    expect(table).toContain('lamp 2700 +- 20 K')
    expect(table.split('\n').length).toBeGreaterThan(20)
  })
})
