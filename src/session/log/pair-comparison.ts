import type { TemperatureDifference } from '../../estimate/difference.ts'
import type { ReadingChange } from '../../estimate/map/map-change.ts'
import type { GlowInput } from '../../estimate/types.ts'
import { currentInputs, currentResult } from '../../log/schema/reading-schema.ts'
import type { Reading } from '../../log/schema/types.ts'
import { type Comparison, compareResults, verdictOf } from '../../log/statistics/compare.ts'
import { storedGlow } from './stored-glow.ts'

/** What the figure of a reading came from; it need not be saved yet. */
type Figured = Pick<
  Reading,
  'result' | 'recomputations' | 'inputs' | 'simulated' | 'demo' | 'object'
>

export interface PairComparison extends Comparison {
  /** Whether a card in each picture could change it: see {@link withCardsK}. */
  readonly cardsMayHelp: boolean
}

/** A step that leaves more than this of the uncertainty is none to speak of. */
const WORTH_WHILE = 0.85

/**
 * How much two readings differ: from the joint posterior of their camera where both were read by its
 * colours, else by the terms that their budgets share.
 */
export async function comparePair(one: Reading, two: Reading): Promise<PairComparison> {
  const byBudget = compareResults(currentResult(one), currentResult(two))
  const found = await jointDifference(one, two)
  if (found === null) return { ...byBudget, cardsMayHelp: false }
  const { differenceK, standardUncertaintyK, correlation } = found
  return {
    ...byBudget,
    differenceK,
    standardUncertaintyK,
    correlation,
    partlyUnknown: false,
    verdict: verdictOf(differenceK, standardUncertaintyK),
    cardsMayHelp: [one, two].some((reading) => {
      const balance = storedGlow(currentInputs(reading))?.balance
      return balance && balance.samePicture !== true
    }),
  }
}

/**
 * A lock may stray from photo to photo; a card in the picture moves with the glow.
 *
 * @param nowK standard uncertainty of the difference as it is, K
 * @returns the same if a card lay in each picture; null where that would not make it clearly smaller
 */
export async function withCardsK(one: Reading, two: Reading, nowK: number): Promise<number | null> {
  const found = await jointDifference(one, two, ({ balance, ...input }) => ({
    ...input,
    balance: balance && { ...balance, samePicture: true },
  }))
  return found && found.standardUncertaintyK < WORTH_WHILE * nowK
    ? found.standardUncertaintyK
    : null
}

/** The same for the maps of two readings, later less earlier; null where there is no difference. */
export async function readingChange(
  earlier: Figured,
  later: Figured,
): Promise<ReadingChange | null> {
  const found = await jointDifference(later, earlier)
  if (found) return { ...found, oneCamera: true }
  const { differenceK, standardUncertaintyK } = compareResults(
    currentResult(later),
    currentResult(earlier),
  )
  if (differenceK === null || standardUncertaintyK === null) return null
  return { differenceK, standardUncertaintyK, oneCamera: false }
}

/** First less second; null where the two have no camera in common, or what is stored is not sound. */
async function jointDifference(
  one: Figured,
  two: Figured,
  as: (input: GlowInput) => GlowInput = (input) => input,
): Promise<TemperatureDifference | null> {
  // Simulated and real light have no camera in common, whatever its name.
  if (one.simulated !== two.simulated || one.demo || two.demo) return null
  const [earlier, later] = [two, one].map((reading) => storedGlow(currentInputs(reading)))
  if (!earlier || !later) return null
  const [first, second] = [as(earlier), as(later)]
  const { ofOnePiece, temperatureDifference } = await import('../../estimate/difference.ts')
  const onePiece = one.object !== '' && one.object === two.object
  return onePiece
    ? temperatureDifference(ofOnePiece(first), ofOnePiece(second))
    : temperatureDifference(first, second)
}
