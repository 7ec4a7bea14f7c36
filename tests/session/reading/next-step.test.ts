import { expect, it } from 'vitest'
import type { BudgetTerm, TemperatureEstimate } from '../../../src/estimate/types.ts'
import { nextStep } from '../../../src/session/reading/next-step.ts'

/** A reading at 910 °C of a camera with lock, card, curve and salt (made up). */
const estimate = (budget: readonly (readonly [BudgetTerm, number])[]): TemperatureEstimate => ({
  kind: 'temperature',
  temperatureK: 1183,
  colourTemperatureK: 1183,
  standardUncertaintyK: Math.hypot(...budget.map(([, sd]) => sd)),
  expandedUncertaintyK: 180,
  interval95K: [920, 1280],
  budget: budget.map(([term, standardUncertaintyK]) => ({ term, standardUncertaintyK })),
  dominant: budget[0]![0],
  advice: { code: 'second known heat', nearK: 1183, predictedStandardUncertaintyK: 75 },
  referencesUsed: [],
  offLocus: { kind: 'not tested' } as unknown as TemperatureEstimate['offLocus'],
  leak: {} as TemperatureEstimate['leak'],
  eye: null,
  findings: [],
})
const step = (
  budget: readonly (readonly [BudgetTerm, number])[],
  red: number,
  material = 'cavity',
  infraredUntried = false,
) =>
  nextStep({
    estimate: estimate(budget),
    stored: null,
    balanceKind: 'daylight',
    hasCard: true,
    device: 'a phone',
    materialId: material,
    infraredUntried,
    storedLevels: [red, 0.15, 0],
  }).kind

it('asks for light before a further known heat where blue saw nothing', () => {
  const infrared = [['infrared leak', 85] as const, ['surface', 20] as const]
  expect(step(infrared, 0.5)).toBe('expose longer')
  // Half a stop is left: set1 of the independent photos read +-68 at code 0.76 and +-32 at 0.95.
  expect(step(infrared, 0.76)).toBe('expose longer')
  // It is as bright as it can be: the infrared test, and after it the known heat, is what helps.
  expect(step(infrared, 0.9, 'cavity', true)).toBe('test infrared')
  expect(step(infrared, 0.9)).toBe('known heat')
  expect(
    step(
      [
        ['camera', 40],
        ['infrared leak', 20],
      ],
      0.5,
    ),
  ).toBe('known heat')
})

it('asks for the surface first where it makes a fifth of the variance', () => {
  expect(
    step(
      [
        ['surface', 18],
        ['camera', 20],
      ],
      0.9,
      '',
    ),
  ).toBe('state surface')
  expect(
    step(
      [
        ['surface', 5],
        ['camera', 20],
      ],
      0.9,
      '',
    ),
  ).toBe('known heat')
})
