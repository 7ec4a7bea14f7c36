/** A budget split into what is a reading's own and what it shares with others. */
import type { BudgetEntry } from '../schema/reading-schema.ts'

/** A temperature with its budget, as a reading keeps it. */
export interface Budgeted {
  readonly temperatureK: number
  readonly standardUncertaintyK: number
  readonly budget: readonly BudgetEntry[]
}

export interface SplitBudget {
  /** Variance of terms that no other reading shares, K². */
  readonly ownK2: number
  /** Contribution of each common cause (see {@link causeOf}), K, signed. */
  readonly shared: ReadonlyMap<string, number>
  /**
   * Variance that the budget does not account for (all of it without a budget), K²: whether others
   * share it is not known.
   */
  readonly unknownK2: number
}

/** What a budget names as a cause that errs for several readings at once. */
export interface Cause {
  readonly term: string
  readonly sharedBy: string
}

const PART = ' / '

/** One of several independent errors of one cause, such as a number of a camera. */
export const partOfCause = (sharedBy: string, part: string): string => `${sharedBy}${PART}${part}`

/** The cause that a part belongs to; the same where it is whole. */
export function wholeCause(sharedBy: string): string {
  const at = sharedBy.indexOf(PART)
  return at < 0 ? sharedBy : sharedBy.slice(0, at)
}

/** One text for one cause: a camera's own colours and its references are two, though of one camera. */
const keyOf = (term: string, sharedBy: string) => `${term}\u0000${sharedBy}`

/** Inverse of the keys of {@link SplitBudget.shared}. */
export function causeOf(key: string): Cause {
  const [term = '', sharedBy = ''] = key.split('\u0000')
  return { term, sharedBy }
}

/**
 * Contributions from one cause add up with their signs before they are squared; the rest is the
 * reading's own (GUM, JCGM 100:2008, 5.2.2: inputs correlated with r = 1).
 */
export function splitBudget({ standardUncertaintyK, budget }: Budgeted): SplitBudget {
  let ownK2 = 0
  const shared = new Map<string, number>()
  for (const { term, contributionK, sharedBy } of budget) {
    if (sharedBy === null) {
      ownK2 += contributionK ** 2
      continue
    }
    const key = keyOf(term, sharedBy)
    shared.set(key, (shared.get(key) ?? 0) + contributionK)
  }
  let known = ownK2
  for (const contribution of shared.values()) known += contribution ** 2
  // A budget rounded in its last digit leaves a crumb that is no unknown term.
  const rest = standardUncertaintyK ** 2 - known
  const unknownK2 = rest > 0.01 * standardUncertaintyK ** 2 ? rest : 0
  return { ownK2, shared, unknownK2 }
}

/**
 * Budgets made comparable: where readings know a cause by different parts (an earlier computation's, or
 * none), it counts as one error of all, so that it is never averaged away.
 */
export function alikeInParts(budgets: readonly SplitBudget[]): SplitBudget[] {
  const common = new Map<string, ReadonlySet<string>>()
  const parted = new Set<string>()
  for (const { shared } of budgets) {
    const mine = new Map<string, Set<string>>()
    for (const key of shared.keys()) {
      const whole = wholeKey(key)
      const parts = mine.get(whole) ?? new Set()
      mine.set(whole, key === whole ? parts : parts.add(key))
      if (key !== whole) parted.add(whole)
    }
    for (const [whole, parts] of mine) {
      const before = common.get(whole)
      common.set(whole, before ? new Set([...before].filter((part) => parts.has(part))) : parts)
    }
  }
  // A cause that all know whole keeps its sign: it may move them opposite ways.
  const differ = (whole: string) => parted.has(whole) && common.get(whole)?.size === 0
  return budgets.map((budget) => {
    const shared = new Map<string, number>()
    for (const [key, contribution] of budget.shared) {
      const whole = wholeKey(key)
      if (differ(whole)) shared.set(whole, Math.hypot(shared.get(whole) ?? 0, contribution))
      else shared.set(key, contribution)
    }
    return { ...budget, shared }
  })
}

function wholeKey(key: string): string {
  const { term, sharedBy } = causeOf(key)
  return keyOf(term, wholeCause(sharedBy))
}

/** The part of a temperature's uncertainty that it does not share, as far as its budget says, K. */
export function ownUncertaintyK(result: Budgeted): number {
  const { ownK2, unknownK2 } = splitBudget(result)
  return Math.sqrt(ownK2 + unknownK2)
}
