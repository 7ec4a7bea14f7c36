import type { BalanceState, Linearity } from '../../estimate/types.ts'
import { balanceWords } from './balance.ts'

export interface Applied {
  readonly balanceState: BalanceState
  readonly card: string | null
  /** The raw file of the shot gave the balance that no card gives. */
  readonly rawBalance: boolean
  readonly linearity: Linearity['kind'] | null
  readonly heats: readonly string[]
  /** The photo contradicts what is stored of its camera. */
  readonly contradicted: boolean
}

/** What a figure rests on, in one line; what is missing is named after it. */
export function appliedWords(applied: Applied): string {
  const { balanceState, card, rawBalance, linearity, heats, contradicted } = applied
  const refused = contradicted ? 'Stored lock not applied. ' : ''
  const known = balanceState.kind !== 'unknown' && balanceState.kind !== 'automatic'
  const held = balanceState.lock === 'verified' ? ' and seen to hold' : ''
  const sweep = linearity === 'sweep'
  const curved = linearity === 'single' || linearity === null
  const have = [
    ...(known ? [`white balance ${balanceWords(balanceState)}${held}`] : []),
    ...(rawBalance ? ['white balance of the raw file'] : []),
    ...(card !== null ? [card] : []),
    ...(sweep ? ['tone curve'] : []),
    ...(heats.length > 2 ? [`${heats.length} known heats`] : heats),
  ]
  const lack = [
    ...(known || rawBalance
      ? []
      : [balanceState.kind === 'automatic' ? 'automatic white balance' : 'white balance not said']),
    ...(card === null && !rawBalance ? ['no card'] : []),
    ...(curved ? ['no tone curve'] : []),
    ...(heats.length === 0 ? ['no known heat'] : []),
  ]
  if (have.length === 0) return refused + sentence(lack)
  return lack.length === 0
    ? `${refused}With ${have.join(', ')}.`
    : `${refused}With ${have.join(', ')}; ${lack.join(', ')}.`
}

const sentence = (parts: readonly string[]) => {
  const text = parts.join(', ')
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}
