/**
 * Levels can be wrong in ways that no term covers: smoke, an angle of view, a hand before the lens, a
 * shutter label. What is then known of them is a mixture, and colour decides between its parts.
 */
import { type Levels, ofOnePieceOnly } from './joint-levels.ts'

/** One way in which the levels may be. */
export interface LevelState {
  /** How often before anything was seen, 0..1. */
  readonly share: number
  /** What the readings' levels lack beside those of the known heats, in ln. */
  readonly lost: number
  /** Standard deviation of each level beside its stated errors, in ln. */
  readonly sd: number
}

export const SOUND: LevelState = { share: 1, lost: 0, sd: 0 }

/**
 * Of the wrong levels a few say nothing at all: a dark filter before the lens, a label that is made up, a
 * picture that the camera brightened. Some stops, in ln of a level: without these a level wrong by a
 * factor of 6 drew the reading by a standard uncertainty. Common practice.
 */
const STRANGE = 0.1
const STRANGE_SD = 2

/** One piece: seldom, and either way; common practice. */
const onePiece = (odds: number): readonly LevelState[] => [
  { share: 1 - odds, lost: 0, sd: 0 },
  { share: odds * (1 - STRANGE), lost: 0, sd: 0.4 },
  { share: odds * STRANGE, lost: 0, sd: STRANGE_SD },
]
const ONE_PIECE = onePiece(0.15)
/** Under the eyes of a person who watches a stream; common practice. */
const WATCHED = onePiece(0.04)
/**
 * Between pieces nobody watches what stands before the glow. More light is lost of a reading than of a
 * melt that a person set up with care; half of it is the middle, 0.4 in ln (two levels) the spread.
 * Common practice; the shares are those with which colour overrules a loss of half even where it is
 * weakest, at 1000 K, and a sound level still does better than colour alone (METHODS.md).
 */
const OTHER_PIECES: readonly LevelState[] = [
  { share: 0.3, lost: 0, sd: 0 },
  { share: 0.46, lost: Math.LN2, sd: 0.4 * Math.SQRT1_2 },
  { share: 0.16, lost: -Math.LN2, sd: 0.4 * Math.SQRT1_2 },
  { share: 0.08, lost: 0, sd: STRANGE_SD },
]

export function levelStates(levels: Levels): readonly LevelState[] {
  if (!ofOnePieceOnly(levels)) return OTHER_PIECES
  const { readings } = levels
  return readings.length > 1 && readings.every((level) => level?.stream) ? WATCHED : ONE_PIECE
}

/** Probability of a wrong level above which colour has overruled it: half of the way from its prior to 1. */
export function overruledAbove(states: readonly LevelState[]): number {
  const prior = states.reduce((sum, { share, sd }) => sum + (sd > 0 ? share : 0), 0)
  return (1 + prior) / 2
}
