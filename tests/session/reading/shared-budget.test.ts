import { expect, it } from 'vitest'
import { ofOnePiece, temperatureDifference } from '../../../src/estimate/difference.ts'
import type { Linearity } from '../../../src/estimate/types.ts'
import { compareResults } from '../../../src/log/statistics/compare.ts'
import { wholeCause } from '../../../src/log/statistics/shared-terms.ts'
import { statisticsOf } from '../../../src/log/statistics/statistics.ts'
import { resultOf } from '../../../src/session/reading/reading-record.ts'
import { reading, salt, seen, temperature } from '../../estimate/inputs.ts'

const references = [salt()]
const at = (kelvin: number, linearity: Linearity = { kind: 'linear' }) => {
  const input = ofOnePiece(reading(seen(kelvin), { references, linearity }))
  const estimate = temperature(input)
  const result = resultOf(estimate, input)
  if (result.kind !== 'temperature') throw new Error(result.kind)
  return { input, estimate, result }
}

it('a stored budget keeps its squares, and the signs of what a camera errs by', () => {
  const [below, above] = [at(1010), at(1150)]
  for (const { estimate, result } of [below, above]) {
    const squares = result.budget.reduce((sum, { contributionK: c }) => sum + c ** 2, 0)
    expect(squares).toBeCloseTo(estimate.standardUncertaintyK ** 2, 3)
  }
  // The numbers of the camera move readings on both sides of the known heat against each other.
  const products = below.result.budget.flatMap(({ term, sharedBy, contributionK }) => {
    const other = above.result.budget.find((one) => one.term === term && one.sharedBy === sharedBy)
    return term === 'camera' && other ? [contributionK * other.contributionK] : []
  })
  expect(products.length).toBeGreaterThan(1)
  expect(products.reduce((sum, product) => sum + product, 0)).toBeLessThan(0)
})

it('two stored budgets tell a difference as surely as the joint posterior of their camera', () => {
  const curve: Linearity = {
    kind: 'sweep',
    curveId: 'kept',
    standardUncertaintyGreen: 0.05,
    standardUncertaintyBlue: 0.1,
    ownUncertainty: 0.01,
  }
  for (const [a, b, linearity] of [
    [1177, 1183],
    [1010, 1150],
    [1177, 1183, curve],
    [1010, 1150, curve],
  ] as const) {
    const [one, two] = [at(a, linearity), at(b, linearity)]
    const joint = temperatureDifference(one.input, two.input)!
    const stored = compareResults(one.result, two.result)
    const ratio = stored.standardUncertaintyK! / joint.standardUncertaintyK
    // What is taken as one error (small parts, possible filters) and what is not: 1.00, 1.10,
    // 1.00, 0.96.
    expect(ratio).toBeGreaterThan(0.94)
    expect(ratio).toBeLessThan(1.12)
  }
})

it('a mean never averages away what an earlier budget knew as one error', () => {
  const [now, then] = [at(1150).result, at(1152).result]
  const whole = {
    ...then,
    budget: then.budget.map((entry) => ({
      ...entry,
      sharedBy: entry.sharedBy && wholeCause(entry.sharedBy),
      contributionK: Math.abs(entry.contributionK),
    })),
  }
  const common = statisticsOf([now, then])!.commonK
  expect(statisticsOf([now, whole])!.commonK).toBeGreaterThan(0.98 * common)
})
