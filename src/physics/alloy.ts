import { ALLOYS } from './alloy.data.ts'
import type { Estimate, MaterialId } from './materials.ts'
import { propagateUncertainty } from './uncertainty.ts'

export { ALLOYS }

export type AlloyId =
  | 'iron-chromium-aluminium'
  | 'nickel-chromium-80-20'
  | 'nickel-chromium-iron-60-16'
  | 'stainless-18-8'
  | 'copper-nickel'
  | 'steel'
  | 'nickel'
  | 'tungsten'
  | 'copper'

/** What a magnet does on the cold wire. */
export type MagnetTest = 'sticks' | 'weak' | 'no'

export interface Alloy {
  readonly id: AlloyId
  /** Plain trade name. */
  readonly name: string
  /** Resistivity at 20 °C, micro-ohm m, and its spread among grades (standard). */
  readonly microOhmM: number
  readonly spread: number
  readonly magnet: readonly MagnetTest[]
  readonly materialId?: MaterialId
}

/** Cross-section of the wire, m. */
export type CrossSection =
  | { readonly diameterM: Estimate }
  | { readonly widthM: Estimate; readonly thicknessM: Estimate }

/** What was found on the cold piece; either part may be missing. */
export interface AlloyEvidence {
  readonly magnet?: MagnetTest
  readonly resistance?: {
    /** Test leads taken off, ohm. */
    readonly ohms: Estimate
    readonly lengthM: Estimate
    readonly section: CrossSection
  }
}

export interface AlloyCandidate {
  readonly alloy: Alloy
  /** (measured - listed resistivity) / standard uncertainty of both; undefined without resistance. */
  readonly standardisedDifference?: number
}

export interface AlloyAnswer {
  /** Resistivity, micro-ohm m, where resistance was given. */
  readonly microOhmM?: Estimate
  /** What the evidence leaves, best first. */
  readonly left: readonly AlloyCandidate[]
  readonly verdict: 'one left' | 'several left' | 'none left'
}

/** Resistivity of a wire or strip at room temperature, micro-ohm m: R A / length. */
export function resistivity({
  ohms,
  lengthM,
  section,
}: NonNullable<AlloyEvidence['resistance']>): Estimate {
  const [a, b] =
    'diameterM' in section ? [section.diameterM, undefined] : [section.widthM, section.thicknessM]
  return propagateUncertainty(
    ([r, l, x, y]) => (1e6 * r! * (y === undefined ? (Math.PI / 4) * x! * x! : x! * y)) / l!,
    [
      { code: 'ohms', ...ohms },
      { code: 'length', ...lengthM },
      { code: 'width', ...a },
      ...(b ? [{ code: 'thickness', ...b }] : []),
    ],
  )
}

/**
 * Which alloys a magnet and the cold resistance leave: the magnet tells ferritic
 * iron-chromium-aluminium (sticks) from nickel-chromium (does not); resistance per length narrows it.
 *
 * Alloys within two standard uncertainties stay. 80/20 and 60/16 lie 3 % apart and are seldom told
 * from each other by a ruler and a pocket meter.
 */
export function narrowAlloy(evidence: AlloyEvidence): AlloyAnswer {
  const { magnet, resistance } = evidence
  const found = resistance && resistivity(resistance)
  const left = ALLOYS.filter((alloy) => !magnet || alloy.magnet.includes(magnet))
    .map((alloy): AlloyCandidate => {
      if (!found) return { alloy }
      const spread = Math.hypot(found.standardUncertainty, alloy.spread)
      return { alloy, standardisedDifference: (found.value - alloy.microOhmM) / spread }
    })
    .filter(({ standardisedDifference: z }) => z === undefined || Math.abs(z) <= 2)
    .sort(
      (a, b) => Math.abs(a.standardisedDifference ?? 0) - Math.abs(b.standardisedDifference ?? 0),
    )
  return {
    ...(found && {
      microOhmM: { value: found.value, standardUncertainty: found.standardUncertainty },
    }),
    left,
    verdict: left.length === 0 ? 'none left' : left.length === 1 ? 'one left' : 'several left',
  }
}
