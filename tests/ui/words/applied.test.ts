import { expect, test } from 'vitest'
import { type Applied, appliedWords } from '../../../src/ui/words/applied.ts'

const NOTHING: Applied = {
  balanceState: { kind: 'unknown', colourTemperatureK: null },
  card: null,
  rawBalance: false,
  linearity: 'single',
  heats: [],
  contradicted: false,
}

test('what a figure rests on is said first, then what it lacks', () => {
  expect(appliedWords(NOTHING)).toBe(
    'White balance not said, no card, no tone curve, no known heat.',
  )
  expect(appliedWords({ ...NOTHING, card: 'grey card', heats: ['table salt'] })).toBe(
    'With grey card, table salt; white balance not said, no tone curve.',
  )
})

test('the balance that a raw file gave is not called missing', () => {
  expect(appliedWords({ ...NOTHING, rawBalance: true, linearity: 'sweep' })).toBe(
    'With white balance of the raw file, tone curve; no known heat.',
  )
})
