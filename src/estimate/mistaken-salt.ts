/**
 * Salts look alike, and one is taken for another now and then. What the other references say of the photo
 * tells whether another salt would fit it better; by itself a wrong salt says nothing.
 */
import { normalDensity } from '../numerics/heavy-tails.ts'
import { KNOWN_HEATS } from '../physics/fixed-points.data.ts'
import type { FixedPointId } from '../physics/fixed-points.ts'
import type { GlowProblem, UsedReference } from './glow-problem.ts'
import { colourTemperatureOf } from './measured-ratio.ts'

/** How often a salt is each of the others; common practice, no count is known. */
const MISTAKEN = 0.015
/** A chance of which an interval of 95 % must not be silent. */
const WORTH_A_WORD = 0.05
/** Salts nearer than this to their label are that salt. */
const SAME_K = 0.5
/** A salt that melts nearer than this to the label's is hardly told from it, and misleads little. */
const LEAST_ERROR_K = 50

const SALTS = KNOWN_HEATS.flatMap(({ id, group, points }) =>
  group === 'salt' && points.by === 'nothing'
    ? [{ id, temperatureK: points.point.temperatureK }]
    : [],
)

export interface LikelierSalt {
  readonly id: FixedPointId
  /** Its melting point less that of the label, K. */
  readonly hotterK: number
}

/** What the other references expect of a photo's green under one hypothesis. */
interface Expected {
  readonly camera: number
  readonly weight: number
  /** Observed less expected, with the label's temperature. */
  readonly mean: number
  readonly sd: number
}

/**
 * The salt that a reference more likely was, where that chance is worth a word.
 *
 * @param expectedBy what such references, if all of them or with the one in question first, expect of it
 */
export function likelierSalt(
  problem: GlowProblem,
  index: number,
  expectedBy: (references: readonly UsedReference[]) => readonly Expected[],
): LikelierSalt | null {
  const { references } = problem
  const { reference, measured, colourTemperatureK } = references[index]!
  const isAt = (kelvin: number) => Math.abs(kelvin - reference.temperatureK) < SAME_K
  if (!SALTS.some(({ temperatureK }) => isAt(temperatureK))) return null
  // Photos of one jar of salt are wrong together.
  const others = references.filter(({ reference: { temperatureK } }) => !isAt(temperatureK))
  if (others.length === 0) return null
  const alone = others.length === references.length - 1
  const expected = expectedBy(alone ? references : [references[index]!, ...others])
  const likelihood = (seenK: number) =>
    expected.reduce((sum, { camera, weight, mean, sd }) => {
      const { green } = problem.cameras[camera]!.model
      return (
        sum + weight * normalDensity(mean + green(colourTemperatureK).mean - green(seenK).mean, sd)
      )
    }, 0)
  const asLabelled = likelihood(colourTemperatureK)
  const taken = SALTS.filter(
    ({ temperatureK }) => Math.abs(temperatureK - reference.temperatureK) > LEAST_ERROR_K,
  ).map((salt) => ({
    ...salt,
    chance: MISTAKEN * likelihood(colourTemperatureOf(salt.temperatureK, measured.lnSlope)),
  }))
  const all = taken.reduce((sum, { chance }) => sum + chance, 0)
  const best = taken.reduce((a, b) => (b.chance > a.chance ? b : a))
  const labelled = (1 - taken.length * MISTAKEN) * asLabelled
  if (!(all > WORTH_A_WORD * (labelled + all))) return null
  return { id: best.id, hotterK: best.temperatureK - reference.temperatureK }
}
