/**
 * Salts look alike, and one is taken for another now and then. What the other references say of the photo
 * tells whether another salt would fit it better; by itself a wrong salt says nothing.
 */
import { KNOWN_HEATS } from '../physics/fixed-points.data.ts'
import type { FixedPointId } from '../physics/fixed-points.ts'
import { cameraPosterior } from './camera-posterior.ts'
import type { GlowProblem } from './glow-problem.ts'
import { colourTemperatureOf } from './measured-ratio.ts'

/** How often a salt is each of the others; common practice, no count is known. */
const MISTAKEN = 0.015
/**
 * A chance that is worth a word and a wider interval: most wrong salts lie 1 to 2 standard deviations from
 * what a lamp foretells and show no surer than that (METHODS.md says what it costs right ones).
 */
const WORTH_A_WORD = 0.01
/** Salts nearer than this to their label are that salt. */
const SAME_K = 0.5
/** A salt that melts nearer than this to the label's is hardly told from it, and misleads little. */
const LEAST_ERROR_K = 50

const SALTS = KNOWN_HEATS.flatMap(({ id, group, points }) =>
  group === 'salt' && points.by === 'nothing'
    ? [{ id, temperatureK: points.point.temperatureK }]
    : [],
)

export interface OtherSalt {
  readonly id: FixedPointId
  /** How likely the photo shows any other salt. */
  readonly chance: number
  /** Its melting point less that of the label, K. */
  readonly hotterK: number
}

/**
 * The salt that a reference may have been, where that chance is worth a word: its colours, green and blue,
 * beside those of the other references, once with each salt's melting point.
 */
export function otherSalt(problem: GlowProblem, index: number): OtherSalt | null {
  const { references } = problem
  const { reference, measured } = references[index]!
  const isAt = (kelvin: number) => Math.abs(kelvin - reference.temperatureK) < SAME_K
  if (!SALTS.some(({ temperatureK }) => isAt(temperatureK))) return null
  // Photos of one jar of salt are wrong together.
  const others = references.filter(({ reference: { temperatureK } }) => !isAt(temperatureK))
  if (others.length === 0) return null
  const evidence = (temperatureK: number) => {
    const seen = {
      ...references[index]!,
      reference: { ...reference, temperatureK },
      colourTemperatureK: colourTemperatureOf(temperatureK, measured.lnSlope),
    }
    return cameraPosterior({ ...problem, references: [seen, ...others] }).logEvidence
  }
  const asLabelled = evidence(reference.temperatureK)
  const taken = SALTS.filter(
    ({ temperatureK }) => Math.abs(temperatureK - reference.temperatureK) > LEAST_ERROR_K,
  ).map((salt) => ({
    ...salt,
    chance: MISTAKEN * Math.exp(evidence(salt.temperatureK) - asLabelled),
  }))
  const all = taken.reduce((sum, { chance }) => sum + chance, 0)
  const best = taken.reduce((a, b) => (b.chance > a.chance ? b : a))
  const chance = all / (1 - taken.length * MISTAKEN + all)
  if (!(chance > WORTH_A_WORD)) return null
  return { id: best.id, chance, hotterK: best.temperatureK - reference.temperatureK }
}
