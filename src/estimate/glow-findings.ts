/** What is to be said of a reading's photo and of its references beside the temperature. */
import type { GlowProblem } from './glow-problem.ts'
import { conflicts, type ReferenceDoubt } from './reference-check.ts'
import { thinSmear } from './smeared-colour.ts'
import type { Finding, GlowInput, ReferenceUse } from './types.ts'

/** From this share of floor pixels on, the mean of green is an upper bound. */
export const GREEN_FLOOR_SHARE = 0.05
/** Background worth a word, over the glow. */
const BACKGROUND_SHARE = 0.03
/** Smear of ln(G/R) that is worth a word: 17 K at 1173 K. */
const WORTH_A_WORD = 0.05
/** A reference older than this may not be of the camera's present software; common practice. */
const OLD_DAYS = 365

/** What became of each reference, those that do not count included. */
export function referenceUses(
  input: GlowInput,
  problem: GlowProblem,
  doubts: readonly ReferenceDoubt[],
): ReferenceUse[] {
  const now = input.takenAt === null ? Number.NaN : Date.parse(input.takenAt)
  const age = (takenAt: string) => {
    const days = (now - Date.parse(takenAt)) / 86_400_000
    return Number.isFinite(days) ? days : null
  }
  const used = problem.references.map(({ reference }, i): ReferenceUse => {
    const doubt = doubts[i]!
    return {
      id: reference.id,
      name: reference.name,
      status: conflicts(doubt) ? 'conflicting' : 'used',
      standardisedResidual: doubt.standardisedResidual,
      ...(doubt.other && { otherSalt: { id: doubt.other.id, chance: doubt.other.chance } }),
      ageDays: age(reference.takenAt),
    }
  })
  const unused = problem.unused.map(
    ({ reference, status }): ReferenceUse => ({
      id: reference.id,
      name: reference.name,
      status,
      standardisedResidual: null,
      ageDays: age(reference.takenAt),
    }),
  )
  return [...used, ...unused]
}

export function findingsOfReferences(uses: readonly ReferenceUse[]): Finding[] {
  return uses.flatMap(({ id, status, standardisedResidual, otherSalt, ageDays }): Finding[] => {
    if (status !== 'used' && status !== 'conflicting')
      return [{ code: 'reference not used', referenceId: id, status }]
    const list: Finding[] = []
    if (status === 'conflicting')
      list.push({
        code: 'reference conflicts',
        referenceId: id,
        standardisedResidual: standardisedResidual ?? 0,
        ...(otherSalt && { otherSalt }),
      })
    if (ageDays !== null && ageDays > OLD_DAYS)
      list.push({ code: 'reference old', referenceId: id, ageDays })
    return list
  })
}

export function findingsOfInput(input: GlowInput): Finding[] {
  const { quality, balance, balanceState, linearity } = input
  const findings: Finding[] = []
  if (quality.clippedShare > 0) findings.push({ code: 'clipped', share: quality.clippedShare })
  if (balanceState.kind === 'automatic') findings.push({ code: 'white balance automatic' })
  if (balanceState.kind === 'unknown') findings.push({ code: 'white balance unknown' })
  if (balance === null) findings.push({ code: 'no grey reference' })
  if (linearity.kind === 'single') findings.push({ code: 'tone curve unknown' })
  if (quality.floorShare[1] > GREEN_FLOOR_SHARE)
    findings.push({ code: 'green at floor', share: quality.floorShare[1] })
  if (thinSmear(input) > WORTH_A_WORD)
    findings.push({ code: 'thin glow', widthPixels: quality.glowWidthPixels })
  if (quality.backgroundShare > BACKGROUND_SHARE)
    findings.push({ code: 'background', share: quality.backgroundShare })
  return findings
}
