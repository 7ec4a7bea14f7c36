import { describe, expect, test } from 'vitest'
import {
  alikeInParts,
  causeOf,
  ownUncertaintyK,
  partOfCause,
  splitBudget,
  wholeCause,
} from '../../../src/log/statistics/shared-terms.ts'

const entry = (term: string, contributionK: number, sharedBy: string | null) => ({
  term,
  contributionK,
  sharedBy,
})
const budgeted = (standardUncertaintyK: number, ...budget: ReturnType<typeof entry>[]) => ({
  temperatureK: 1200,
  standardUncertaintyK,
  budget,
})

describe('a budget split into own and shared terms', () => {
  test('adds contributions of one cause with their signs, others as variances', () => {
    // JCGM 100:2008, 5.2.2: for r = 1 the contributions add up linearly.
    const split = splitBudget(
      budgeted(
        13,
        entry('noise', 3, null),
        entry('surface', 4, null),
        entry('camera', 20, 'camera-1'),
        entry('camera', -8, 'camera-1'),
      ),
    )
    expect(split.ownK2).toBe(25)
    expect([...split.shared.values()]).toEqual([12])
    expect(split.unknownK2).toBe(0)
  })

  test('keeps two causes apart, be it by term or by what shares them', () => {
    const { shared } = splitBudget(
      budgeted(
        5,
        entry('camera', 1, 'a'),
        entry('camera', 2, 'b'),
        entry('grey reference', 4, 'a'),
      ),
    )
    expect([...shared].map(([key, value]) => [causeOf(key), value])).toEqual([
      [{ term: 'camera', sharedBy: 'a' }, 1],
      [{ term: 'camera', sharedBy: 'b' }, 2],
      [{ term: 'grey reference', sharedBy: 'a' }, 4],
    ])
  })

  test('what it does not account for is unknown, a crumb of rounding is not', () => {
    expect(splitBudget(budgeted(10)).unknownK2).toBe(100)
    expect(splitBudget(budgeted(10, entry('noise', 6, null))).unknownK2).toBeCloseTo(64, 9)
    // 0.9 % of the variance, and 1.1 %.
    expect(splitBudget(budgeted(10, entry('noise', Math.sqrt(99.1), null))).unknownK2).toBe(0)
    expect(splitBudget(budgeted(10, entry('noise', Math.sqrt(98.9), null))).unknownK2).toBeCloseTo(
      1.1,
      6,
    )
  })

  test('what a reading has of its own is what no other shares, and what is not known', () => {
    const result = budgeted(13, entry('noise', 3, null), entry('camera', 12, 'camera-1'))
    expect(ownUncertaintyK(result)).toBeCloseTo(Math.sqrt(9 + 16), 9)
  })
})

describe('parts of one cause', () => {
  const camera = (part: string, contributionK: number) =>
    entry('camera', contributionK, partOfCause('camera-1', part))
  const whole = entry('camera', 5, 'camera-1')
  const sharedOf = (budgets: ReturnType<typeof alikeInParts>) =>
    budgets.map(({ shared }) =>
      [...shared].map(([key, value]) => [causeOf(key).sharedBy, Number(value.toFixed(9))]),
    )

  test('belong to their cause', () => {
    expect(wholeCause(partOfCause('camera-1', '2'))).toBe('camera-1')
    expect(wholeCause('camera-1')).toBe('camera-1')
  })

  test('stay apart where all readings know them', () => {
    const both = [
      splitBudget(budgeted(5, camera('1', 3), camera('2', 4))),
      splitBudget(budgeted(5, camera('1', -3), camera('2', 4))),
    ]
    expect(sharedOf(alikeInParts(both))).toEqual([
      [
        ['camera-1 / 1', 3],
        ['camera-1 / 2', 4],
      ],
      [
        ['camera-1 / 1', -3],
        ['camera-1 / 2', 4],
      ],
    ])
  })

  test('stay apart where readings have one of them in common', () => {
    const both = [
      splitBudget(budgeted(5, camera('1', 3), camera('2', 4))),
      splitBudget(budgeted(5, camera('2', 4), camera('3', 3))),
    ]
    expect(sharedOf(alikeInParts(both))[0]).toHaveLength(2)
  })

  test('count as one error of all where readings know the cause by other parts, or whole', () => {
    const parts = splitBudget(budgeted(5, camera('1', 3), camera('2', -4)))
    for (const other of [whole, camera('8', 5)])
      expect(sharedOf(alikeInParts([parts, splitBudget(budgeted(5, other))]))).toEqual([
        [['camera-1', 5]],
        [['camera-1', 5]],
      ])
  })

  test('are none where all know their cause whole: it keeps its sign', () => {
    const both = [5, -5].map((of) => splitBudget(budgeted(5, entry('window', of, 'window-1'))))
    expect(sharedOf(alikeInParts(both))).toEqual([[['window-1', 5]], [['window-1', -5]]])
  })

  test('of another cause are left as they are', () => {
    const lamp = entry('lamp', 2, partOfCause('lamp-1', '1'))
    const budgets = [
      splitBudget(budgeted(5, camera('1', 3), lamp)),
      splitBudget(budgeted(5, whole, lamp)),
    ]
    expect(sharedOf(alikeInParts(budgets))).toEqual([
      [
        ['camera-1', 3],
        ['lamp-1 / 1', 2],
      ],
      [
        ['camera-1', 5],
        ['lamp-1 / 1', 2],
      ],
    ])
  })
})
