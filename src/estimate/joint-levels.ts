/**
 * The levels of brightness that several readings and their references can be compared by, and the
 * errors that these levels share.
 */
import type { GlowProblem } from './glow-problem.ts'
import { levelOfReading, levelOfReference, type MeasuredLevel } from './level-equation.ts'
import { heatCause } from './shared-parts.ts'
import type { BudgetTerm, GlowInput } from './types.ts'

export interface Levels {
  readonly references: readonly (MeasuredLevel | null)[]
  readonly readings: readonly (MeasuredLevel | null)[]
  /** Place of each error that levels share, after the coefficients of the colours. */
  readonly places: ReadonlyMap<string, number>
  readonly count: number
}

/** Null where fewer than two photos have a comparable level, or no reading has. */
export function levelsOf(problem: GlowProblem, inputs: readonly GlowInput[]): Levels | null {
  const references = problem.references.map(({ reference }) => levelOfReference(reference))
  const readings = inputs.map(levelOfReading)
  const all = [...references, ...readings].filter((level) => level !== null)
  if (all.length < 2 || readings.every((level) => level === null)) return null
  const places = new Map<string, number>()
  const place = (key: string) => {
    if (!places.has(key)) places.set(key, problem.coefficients.length + places.size)
  }
  place(GAIN)
  place(BAND)
  for (const { shared } of all) for (const { key } of shared) place(key)
  for (const [i, level] of references.entries()) if (level) place(heatKey(i))
  return { references, readings, places, count: places.size }
}

/** Whether the levels that count are of one piece: of several readings theirs, of one the known heats' too. */
export function ofOnePieceOnly({ references, readings }: Levels): boolean {
  const compared = readings.length > 1 ? readings : [...references, ...readings]
  const pieces = new Set(compared.flatMap((level) => (level ? level.piece : [])))
  return pieces.size === 1 && !pieces.has(null)
}

/** Keys of the errors that all levels share: the camera's gain, the band of its red. */
export const GAIN = 'gain'
export const BAND = 'band'
const HEAT = 'heat '
/** Key of the temperature of a reference that belongs to no group. */
export const heatKey = (reference: number) => `${HEAT}${reference}`

/** The cause that a level's key names, the same in every problem of the camera. */
export const causeOfKey = (key: string, problem: GlowProblem): string =>
  key.startsWith(HEAT) ? heatCause(problem, Number(key.slice(HEAT.length))) : `level ${key}`

export const termOfKey = (key: string): BudgetTerm =>
  key.startsWith(HEAT) ? 'reference temperature' : 'brightness'
