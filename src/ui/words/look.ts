import type { BalanceState } from '../../estimate/types.ts'
import { roundInterval, showTemperature } from '../temperature.ts'
import { balanceWords } from './balance.ts'

/** Named one by one up to this many. */
const NAMED = 3

const listed = (names: readonly string[]): string => {
  const rest = names.length - NAMED
  return rest > 0 ? `${names.slice(0, NAMED).join(', ')} and ${rest} more` : names.join(', ')
}

/** Whose photos the view of a camera shows, and the known heats that it rests on. */
export function lookSentence(look: {
  readonly cameraId: string
  readonly balanceState: BalanceState
  readonly heats: readonly string[]
}): string {
  const { cameraId, heats } = look
  const balance = `white balance ${balanceWords(look.balanceState)}`
  if (heats.length > 0) {
    const count = heats.length === 1 ? '1 known heat' : `${heats.length} known heats`
    return `${cameraId}, ${balance}. Rests on ${count}: ${listed(heats)}.`
  }
  return cameraId === ''
    ? 'A typical camera, locked on daylight: the kit holds no known heat of an ordinary photo.'
    : `A typical camera, ${balance}: no known heat of the kit counts for this one.`
}

/** What a colour in a photo leaves open. A bound that is null is none. */
export function lookRangeWords(range: {
  readonly low95K: number | null
  readonly high95K: number | null
}): string {
  const { low95K, high95K } = range
  if (low95K !== null && high95K !== null) {
    const [low, high] = roundInterval([low95K, high95K])
    return `${low.split(' ')[0]} to ${high}`
  }
  if (high95K !== null) return `below ${showTemperature(high95K)}`
  return low95K === null ? 'any heat' : `above ${showTemperature(low95K)}`
}
