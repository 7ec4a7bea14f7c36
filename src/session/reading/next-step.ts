/** The one step that helps a reading most, by the estimate's own advice. */
import { CHART_SPREAD_K } from '../../estimate/eye-match.ts'
import type { BudgetTerm, GlowEstimate, TemperatureEstimate } from '../../estimate/types.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import type { FixedPointId } from '../../physics/fixed-points.ts'
import { nearestMelt } from '../kit/nearest-melt.ts'
import type { StoredForPhoto } from './stored-for-photo.ts'

export type NextStep =
  | { readonly kind: 'name camera' }
  | { readonly kind: 'state white balance'; readonly afterK: number | null }
  /** It was automatic, or the camera is not what it was when its lock was stated. */
  | { readonly kind: 'lock' }
  /** The camera cannot be locked: its raw file, or the card in the picture. */
  | { readonly kind: 'open raw' }
  | { readonly kind: 'place card' }
  | { readonly kind: 'same settings' }
  | { readonly kind: 'add card'; readonly afterK: number }
  /** Whether the lock holds. */
  | { readonly kind: 'card again'; readonly afterK: number }
  | { readonly kind: 'known heat'; readonly heat: FixedPointId; readonly afterK: number }
  | { readonly kind: 'sweep'; readonly afterK: number }
  /** Whether the camera sees infrared. */
  | { readonly kind: 'test infrared' }
  | { readonly kind: 'expose longer' }
  | { readonly kind: 'expose less' }
  | { readonly kind: 'state surface' }
  | { readonly kind: 'by eye' }
  | { readonly kind: 'check' }

/** Red below this code could be exposed longer by a stop and more without clipping. */
const ROOM_ABOVE = 0.7
/** The same by half a stop, which lifts blue of a red glow from its floor. */
const SOME_ROOM_ABOVE = 0.8

interface Situation {
  readonly estimate: GlowEstimate
  readonly stored: StoredForPhoto | null
  readonly balanceKind: string
  readonly hasCard: boolean
  readonly device: string
  /** Empty where nobody has said it. */
  readonly materialId: string
  /** The camera is in the kit, and nobody has tried whether it sees infrared. */
  readonly infraredUntried: boolean
  /** Codes 0..1 of the region; null where it was not measured. */
  readonly storedLevels: Triple | null
}

export function nextStep(situation: Situation): NextStep {
  const { estimate, stored, balanceKind, hasCard, device, materialId, storedLevels } = situation
  if (estimate.kind === 'no number') {
    if (estimate.reason === 'clipped') return { kind: 'expose less' }
    if (estimate.reason === 'dark') return { kind: 'expose longer' }
  }
  if (estimate.kind === 'below range') {
    return isDark(storedLevels) ? { kind: 'expose longer' } : { kind: 'by eye' }
  }
  if (stored && stored.contradictions.length > 0 && balanceKind !== 'raw') {
    const automatic = stored.contradictions.some(({ code }) => code === 'white balance automatic')
    if (automatic) return { kind: 'lock' }
    if (balanceKind === 'unknown') return { kind: 'same settings' }
  }
  const afterK =
    estimate.kind === 'temperature' ? estimate.advice.predictedStandardUncertaintyK : null
  if (device === '') return { kind: 'name camera' }
  if (balanceKind === 'unknown') return { kind: 'state white balance', afterK }
  if (balanceKind === 'automatic') {
    if (stored?.rawWanted) return { kind: 'open raw' }
    if (!stored?.cardInPicture) return { kind: 'lock' }
    if (!hasCard) return { kind: 'place card' }
  }
  if (estimate.kind !== 'temperature' || afterK === null) return { kind: 'check' }
  // It costs nothing but an answer.
  if (materialId === '' && shareOf(estimate, 'surface') > WORTH_ASKING) {
    return { kind: 'state surface' }
  }
  // Nothing but another photo: light in blue is what tells infrared from heat.
  const unseen = shareOf(estimate, 'infrared leak') + shareOf(estimate, 'pixel noise')
  if (storedLevels && storedLevels[0] < SOME_ROOM_ABOVE && unseen > MOSTLY)
    return { kind: 'expose longer' }
  // A minute with a remote control.
  if (situation.infraredUntried && shareOf(estimate, 'infrared leak') > MOSTLY)
    return { kind: 'test infrared' }
  switch (estimate.advice.code) {
    case 'grey reference':
      return { kind: 'add card', afterK }
    case 'try lock':
      return { kind: 'card again', afterK }
    case 'known heat':
    case 'second known heat':
    case 'matched level':
      return { kind: 'known heat', heat: nearestMelt(estimate.advice.nearK), afterK }
    case 'sweep or raw':
      return { kind: 'sweep', afterK }
    case 'more light':
      return isDark(storedLevels) ? { kind: 'expose longer' } : { kind: 'check' }
    default:
      return materialId === '' ? { kind: 'state surface' } : { kind: 'check' }
  }
}

/** Shares of the variance. */
const WORTH_ASKING = 0.2
const MOSTLY = 0.5
const shareOf = ({ budget, standardUncertaintyK }: TemperatureEstimate, of: BudgetTerm): number => {
  const part = budget.find(({ term }) => term === of)?.standardUncertaintyK ?? 0
  return (part / standardUncertaintyK) ** 2
}

/** Green is at its floor because the photo is dark, not because the glow is dull. */
export const isDark = (storedLevels: Triple | null): boolean =>
  storedLevels !== null && storedLevels[0] < ROOM_ABOVE

/** The eye comes to about as much or better: worth having beside it. */
export const eyeHelps = (estimate: GlowEstimate): boolean =>
  estimate.kind !== 'temperature' || estimate.standardUncertaintyK > CHART_SPREAD_K

/**
 * A ± so wide that the figure says nothing but that it glows: half of the absolute temperature, from
 * dark heat to beyond every furnace. Judgement.
 */
const SAYS_NOTHING = 0.5
export const saysNothing = ({
  temperatureK,
  expandedUncertaintyK,
}: {
  readonly temperatureK: number
  readonly expandedUncertaintyK: number
}): boolean => expandedUncertaintyK > SAYS_NOTHING * temperatureK
