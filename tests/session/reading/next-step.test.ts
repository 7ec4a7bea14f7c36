import { expect, it } from 'vitest'
import type { BudgetTerm, TemperatureEstimate } from '../../../src/estimate/types.ts'
import { nextStep, saysNothing } from '../../../src/session/reading/next-step.ts'

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

/** Two causes, of which the first has this share of the variance. */
const shared = (term: BudgetTerm, share: number) =>
  [[term, 40 * Math.sqrt(share)] as const, ['camera', 40 * Math.sqrt(1 - share)] as const] as const

it('asks for half a stop more only while it is there', () => {
  const infrared = [['infrared leak', 85] as const, ['surface', 20] as const]
  expect(step(infrared, 0.79)).toBe('expose longer')
  expect(step(infrared, 0.81)).toBe('known heat')
})

it('asks for what makes most of the variance, and for the surface from a fifth on', () => {
  expect(step(shared('infrared leak', 0.52), 0.5)).toBe('expose longer')
  expect(step(shared('infrared leak', 0.48), 0.5)).toBe('known heat')
  expect(step(shared('pixel noise', 0.52), 0.5)).toBe('expose longer')
  expect(step(shared('pixel noise', 0.48), 0.5)).toBe('known heat')
  expect(step(shared('infrared leak', 0.52), 0.9, 'cavity', true)).toBe('test infrared')
  expect(step(shared('infrared leak', 0.48), 0.9, 'cavity', true)).toBe('known heat')
  expect(step(shared('surface', 0.21), 0.9, '')).toBe('state surface')
  expect(step(shared('surface', 0.19), 0.9, '')).toBe('known heat')
  // It is said already.
  expect(step(shared('surface', 0.21), 0.9)).toBe('known heat')
})

const situation = {
  estimate: estimate([['camera', 40]]),
  stored: null,
  balanceKind: 'daylight',
  hasCard: true,
  device: 'a phone',
  materialId: 'cavity',
  infraredUntried: false,
  storedLevels: [0.9, 0.15, 0],
} as const
const asked = (change: object) => nextStep({ ...situation, ...change } as never)

it('of a glow below the range tells a dark photo from a dull glow', () => {
  const below = { kind: 'below range', upperBoundK: 900, eye: null, findings: [] }
  expect(asked({ estimate: below, storedLevels: [0.69, 0, 0] }).kind).toBe('expose longer')
  expect(asked({ estimate: below, storedLevels: [0.71, 0, 0] }).kind).toBe('by eye')
  expect(asked({ estimate: below, storedLevels: null }).kind).toBe('by eye')
  const light = { code: 'more light', predictedStandardUncertaintyK: 30 }
  const lit = (red: number) =>
    asked({ estimate: { ...situation.estimate, advice: light }, storedLevels: [red, 0.1, 0] }).kind
  expect([lit(0.69), lit(0.71)]).toEqual(['expose longer', 'check'])
})

it('without a figure asks for another exposure', () => {
  const none = (reason: string) =>
    asked({ estimate: { kind: 'no number', reason, findings: [] } }).kind
  expect(none('clipped')).toBe('expose less')
  expect(none('dark')).toBe('expose longer')
  expect(none('references conflict')).toBe('check')
})

it('asks one thing after the other: the lock, the camera, the balance, the card', () => {
  const stored = (change: object) => ({
    contradictions: [],
    rawWanted: false,
    cardInPicture: false,
    ...change,
  })
  const contradiction = (code: string) => stored({ contradictions: [{ code }] })
  expect(asked({ stored: contradiction('white balance automatic') }).kind).toBe('lock')
  const moved = { stored: contradiction('software') }
  expect(asked({ ...moved, balanceKind: 'unknown' }).kind).toBe('same settings')
  expect(asked(moved).kind).toBe('known heat')
  // Raw pixels have no balance that could have moved.
  expect(asked({ stored: contradiction('white balance automatic'), balanceKind: 'raw' }).kind).toBe(
    'known heat',
  )
  expect(asked({ device: '' }).kind).toBe('name camera')
  expect(asked({ balanceKind: 'unknown' })).toEqual({ kind: 'state white balance', afterK: 75 })
  const free = (change: object, hasCard = false) =>
    asked({ balanceKind: 'automatic', stored: stored(change), hasCard }).kind
  expect(free({ rawWanted: true })).toBe('open raw')
  expect(free({})).toBe('lock')
  expect(free({ cardInPicture: true })).toBe('place card')
  expect(free({ cardInPicture: true }, true)).toBe('known heat')
})

it('follows the advice of the estimate, with what the uncertainty comes to', () => {
  const by = (code: string, materialId = 'cavity') =>
    asked({
      materialId,
      estimate: {
        ...situation.estimate,
        advice: { code, nearK: 1350, predictedStandardUncertaintyK: 30 },
      },
    })
  expect(by('grey reference')).toEqual({ kind: 'add card', afterK: 30 })
  expect(by('try lock')).toEqual({ kind: 'card again', afterK: 30 })
  expect(by('sweep or raw')).toEqual({ kind: 'sweep', afterK: 30 })
  for (const code of ['known heat', 'second known heat', 'matched level'])
    expect(by(code)).toMatchObject({ kind: 'known heat', afterK: 30 })
  expect(by('other').kind).toBe('check')
  expect(by('other', '').kind).toBe('state surface')
})

it('a figure of plus or minus half of itself says nothing', () => {
  const says = (expandedUncertaintyK: number) =>
    saysNothing({ temperatureK: 1200, expandedUncertaintyK })
  expect([says(588), says(612)]).toEqual([false, true])
})
