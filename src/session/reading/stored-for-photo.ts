/** What the kit applies to a photo by itself, and what speaks against applying it. */
import type { BalanceState } from '../../estimate/types.ts'
import type { FlatField } from '../../light/flat-field.ts'
import { BALANCE_UNCERTAINTY } from '../../light/grey-reference.ts'
import type { Channels } from '../../light/image.ts'
import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import type { CameraLock, UsualWork } from '../kit/camera-data.ts'
import { type CameraProfile, cardOf } from '../kit/camera-profile.ts'
import type { StoredGrey } from '../kit/stored-items.ts'
import { cameraIdOf } from './photo-meaning.ts'

/** A photo's own word against what is stored of its camera. */
export type StoredContradiction =
  /** The file says that the white balance was automatic. */
  | { readonly code: 'white balance automatic'; readonly since: string }
  /** The lock was stated for manual exposure; this photo was taken by an automatic program. */
  | { readonly code: 'exposure program'; readonly since: string }
  | { readonly code: 'software'; readonly before: string; readonly now: string }
  | { readonly code: 'lens'; readonly before: string; readonly now: string }
  /** A new card photo is off the stored card by more than both leave open. */
  | { readonly code: 'card moved'; readonly name: string; readonly deviations: number }

export interface StoredForPhoto {
  readonly balanceState: BalanceState | null
  readonly card: StoredGrey | null
  /** No lock: the card is looked for in each picture. */
  readonly cardInPicture: boolean
  /** No lock: this photo should have been a raw one. */
  readonly rawWanted: boolean
  readonly usual: UsualWork | null
  /** Of the photo's lens, in its channels. */
  readonly flatField?: FlatField
  /** Name of the stored card with which a card photographed now agrees: the lock has held. */
  readonly heldSince?: string
  /** A card photographed now that neither agrees with the stored one nor contradicts it. */
  readonly undecided?: UndecidedCard
  readonly contradictions: readonly StoredContradiction[]
}

const MANUAL_EXPOSURE = 1

/**
 * The stored pieces that hold for a photo. A contradiction keeps lock and card from being applied;
 * known heats then do not count either, because they depend on the lock.
 */
export function storedForPhoto(
  { channels, facts }: { readonly channels: Channels; readonly facts: PhotoFacts },
  profile: CameraProfile,
): StoredForPhoto {
  const lock = profile.stored?.data.lock ?? lockOfHeat(profile, cameraIdOf(facts), channels)
  const usual = profile.stored?.data.usual ?? null
  const cameraId = cameraIdOf(facts)
  const withCard = (balanceState: BalanceState): StoredForPhoto => ({
    balanceState,
    card: cardOf(profile, cameraId, channels, balanceState),
    cardInPicture: false,
    rawWanted: false,
    usual,
    contradictions: [],
  })
  // Raw pixels have no balance that could have moved.
  if (channels === 'camera') return withCard({ kind: 'raw', colourTemperatureK: null })
  const none: StoredForPhoto = {
    balanceState: null,
    card: null,
    cardInPicture: false,
    rawWanted: false,
    usual,
    contradictions: [],
  }
  if (lock?.kind === 'locked') {
    const contradictions = contradictionsOf(lock, facts)
    return contradictions.length > 0 ? { ...none, contradictions } : withCard(lock.state)
  }
  if (lock === null) return none
  // What cannot be locked is automatic: nobody is asked again.
  return {
    ...none,
    balanceState: { kind: 'automatic', colourTemperatureK: null },
    cardInPicture: lock.way === 'card in picture',
    rawWanted: lock.way === 'raw',
  }
}

/** A kit of an earlier version has no entry of the camera: its newest known heat says the lock. */
function lockOfHeat(
  { heats }: CameraProfile,
  cameraId: string,
  channels: Channels,
): CameraLock | null {
  const heat = heats.find(
    ({ off, reference }) =>
      !off && reference.cameraId === cameraId && reference.channels === channels,
  )
  if (!heat) return null
  const { balanceState: state, takenAt: since } = heat.reference
  return {
    kind: 'locked',
    state,
    since,
    facts: { exposureProgram: null, software: null, lens: null },
  }
}

/** What a file says against a stored lock. */
export function contradictionsOf(
  lock: Extract<CameraLock, { kind: 'locked' }>,
  facts: PhotoFacts,
): StoredContradiction[] {
  const found: StoredContradiction[] = []
  const { since } = lock
  const automatic = lock.state.kind === 'automatic' || lock.state.kind === 'unknown'
  if (facts.whiteBalance === 'automatic' && !automatic) {
    found.push({ code: 'white balance automatic', since })
  }
  const { exposureProgram } = facts
  const wasManual = lock.facts.exposureProgram === MANUAL_EXPOSURE
  if (wasManual && exposureProgram !== null && exposureProgram !== MANUAL_EXPOSURE) {
    found.push({ code: 'exposure program', since })
  }
  for (const code of ['software', 'lens'] as const) {
    const before = lock.facts[code]
    const now = facts[code]
    if (before !== null && now !== null && before !== now) found.push({ code, before, now })
  }
  return found
}

/** From so many standard deviations on two cards contradict each other: one in 370 by chance. */
const CARDS_DIFFER = 3
/**
 * Two photos of a card by a lock that holds agree within this in ln(G/R), and within twice that in
 * ln(B/R): two standard deviations of what such locks leave, and a third of what others drift. Common
 * practice.
 */
const CARDS_AGREE = 0.014

type Card = Pick<StoredGrey, 'balance' | 'channels'>

/** Two cards that differ by no more than their light may have: lock or light, one of them moved. */
export interface UndecidedCard {
  readonly name: string
  /** The channel that keeps them from agreeing. */
  readonly channel: 'green' | 'blue'
  /** Of this channel over red, a share. */
  readonly apart: number
}

/** Differences of two cards, ln(G/R) and ln(B/R); null where they cannot be compared. */
function cardsApart(
  now: Card,
  stored: Card,
): { readonly green: number; readonly blue: number } | null {
  if (now.channels !== stored.channels || now.balance.id === stored.balance.id) return null
  if (now.balance.light.kind !== stored.balance.light.kind) return null
  const apart = (c: 1 | 2) => {
    const ln = ({ logGains }: Card['balance']) => logGains[c] - logGains[0]
    return ln(now.balance) - ln(stored.balance)
  }
  return { green: apart(1), blue: apart(2) }
}

/** Codes of two photos agree in ln(G/R) to no better than this, squared. */
const LEAST_VARIANCE = 0.005 ** 2

/**
 * Whether a card photographed now says the same as the stored one, of the same kind of light.
 *
 * @returns null where they cannot be compared
 */
export function cardMoved(
  now: Card,
  stored: StoredGrey,
): Extract<StoredContradiction, { code: 'card moved' }> | null {
  const apart = cardsApart(now, stored)
  if (!apart) return null
  // What a balance may be wrong by for a glow grows with it; two cards are compared as they are.
  const share = now.channels === 'display-p3' ? BALANCE_UNCERTAINTY : 0
  const variance = ({ covariance: c, logGains: [r, g] }: Card['balance']) =>
    Math.max(c[0][0] + c[1][1] - 2 * c[0][1] - (share * (g - r)) ** 2, LEAST_VARIANCE)
  const sd = Math.sqrt(variance(now.balance) + variance(stored.balance))
  const deviations = Math.abs(apart.green) / sd
  if (!(deviations > CARDS_DIFFER)) return null
  return { code: 'card moved', name: stored.name, deviations }
}

/** Whether two photos of a card show that the lock holds; where the light has changed they do not. */
export function cardHeld(now: Card, stored: Card): boolean {
  const apart = cardsApart(now, stored)
  return (
    apart !== null &&
    Math.abs(apart.green) <= CARDS_AGREE &&
    Math.abs(apart.blue) <= 2 * CARDS_AGREE
  )
}

/** @returns null where the cards agree, contradict each other or cannot be compared */
export function cardUndecided(now: Card, stored: StoredGrey): UndecidedCard | null {
  const apart = cardsApart(now, stored)
  if (!apart || cardHeld(now, stored) || cardMoved(now, stored)) return null
  const channel = Math.abs(apart.green) > CARDS_AGREE ? 'green' : 'blue'
  return { name: stored.name, channel, apart: Math.abs(Math.expm1(apart[channel])) }
}
