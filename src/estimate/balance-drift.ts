import type { BalanceState, GreyBalance } from './types.ts'

/**
 * How far a camera's balance may have moved between the photo of the card and that of the glow:
 * standard uncertainty of ln(G/R), each photo for itself. Common practice: a preset holds to a few
 * hundredths, because cameras trim it by the scene; a lock that was seen to hold, to what two photos
 * of one card agree in.
 */
const DRIFT = {
  none: 0.003,
  verified: 0.005,
  set: 0.03,
  free: 0.15,
} as const

/**
 * Raw pixels know no balance; a card in the very picture moves with the glow. The photos of a sweep are
 * trimmed each for itself, so that their mean errs by less; what no balance fixes moves them alike.
 *
 * @param photos of a sweep that show the colour
 */
export function balanceDrift(balance: GreyBalance | null, state: BalanceState, photos = 1): number {
  if (state.kind === 'raw') return DRIFT.none
  if (balance?.samePicture) return DRIFT.none
  if (state.kind === 'automatic' || state.kind === 'unknown')
    // Without a card its own uncertainty says as much already.
    return balance === null ? 0 : DRIFT.free
  return state.lock === 'verified'
    ? DRIFT.verified
    : Math.max(DRIFT.set / Math.sqrt(photos), DRIFT.verified)
}
