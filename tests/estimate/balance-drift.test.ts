import { expect, test } from 'vitest'
import { balanceDrift } from '../../src/estimate/balance-drift.ts'
import type { BalanceState, BudgetTerm, GreyBalance } from '../../src/estimate/types.ts'
import { CARD, reading, salt, seen, temperature } from './inputs.ts'

const PRESET: BalanceState = { kind: 'daylight', colourTemperatureK: null }
const HELD: BalanceState = { ...PRESET, lock: 'verified' }

/** What may have drifted between card and glow, K, where reading and salt were taken so. */
function driftK(
  ofReading: BalanceState,
  ofSalt: BalanceState = ofReading,
  [card, saltCard]: readonly GreyBalance[] = [CARD, CARD],
): number {
  const { budget } = temperature(
    reading(seen(1173), {
      balance: card!,
      balanceState: ofReading,
      references: [salt(0, { balance: saltCard!, balanceState: ofSalt })],
    }),
  )
  const part = (of: BudgetTerm) => budget.find(({ term }) => term === of)?.standardUncertaintyK ?? 0
  // Of the reading's photo and of the salt's.
  return Math.hypot(part('balance drift'), part('reference photo'))
}

test('a preset that nobody tried drifts by 0.03 in ln(G/R), a lock that held by 0.005', () => {
  // Planck in Display P3: 0.0029 a kelvin at 1173 K (see measure-glow.ts); common practice for the sizes.
  expect(driftK(PRESET)).toBeGreaterThan(0.03 / 0.0029)
  expect(driftK(HELD)).toBeLessThan(0.3 * driftK(PRESET))
})

test('a lock seen to hold by today’s cards holds for the known heat too: it is one setting', () => {
  expect(driftK(HELD, PRESET)).toBeCloseTo(driftK(HELD), 6)
  expect(driftK(PRESET, HELD)).toBeCloseTo(driftK(HELD), 6)
})

test('cards in both pictures take the drift out', () => {
  const inPicture = (id: string) => ({ ...CARD, id, samePicture: true })
  const cards = [inPicture('a'), inPicture('b')]
  expect(driftK(PRESET, PRESET, cards)).toBeLessThan(0.2 * driftK(PRESET))
  // One alone leaves the other photo's drift.
  expect(driftK(PRESET, PRESET, [cards[0]!, CARD])).toBeGreaterThan(0.5 * driftK(PRESET))
})

test('a sweep errs less in the mean over its photos, which drift each for itself', () => {
  expect(balanceDrift(null, PRESET, 4)).toBeCloseTo(balanceDrift(null, PRESET) / 2, 12)
  // Two photos of one card say no more than that.
  const held = balanceDrift(null, HELD)
  expect(balanceDrift(null, PRESET, 400)).toBe(held)
  expect(balanceDrift(null, HELD, 9)).toBe(held)
})

test('what no balance fixes moves the photos of a sweep alike', () => {
  const automatic: BalanceState = { kind: 'automatic', colourTemperatureK: null }
  expect(balanceDrift(CARD, automatic, 9)).toBe(balanceDrift(CARD, automatic))
})

test('the card photographed once more is the next step where drift leaves most, and it keeps its promise', () => {
  const at = (balanceState: BalanceState) =>
    temperature(reading(seen(1173), { balanceState, references: [salt(0, { balanceState })] }))
  const { advice } = at(PRESET)
  expect(advice.code).toBe('try lock')
  const held = at(HELD)
  expect(held.advice.code).not.toBe('try lock')
  // In one line, without the bends of the locus.
  expect(advice.predictedStandardUncertaintyK / held.standardUncertaintyK).toBeGreaterThan(0.8)
  expect(advice.predictedStandardUncertaintyK / held.standardUncertaintyK).toBeLessThan(1.25)
})
