/**
 * What a measurement has to say besides its numbers. Pure code names it; the words for people
 * stand in the interface.
 */
export interface LightFinding<Code extends string = string> {
  readonly code: Code
  /** `refusal`: no number may be shown; `warning`: the number suffers; `note`: good to know. */
  readonly weight: 'refusal' | 'warning' | 'note'
  /** Shares 0..1, pixels, codes: whatever the sentence needs, keyed by quantity. */
  readonly values: Readonly<Record<string, number>>
}

const ORDER = { refusal: 0, warning: 1, note: 2 } as const

/** Refusals first, then warnings, then notes; the order within a weight is kept. */
export function byWeight<F extends LightFinding>(findings: readonly F[]): F[] {
  return [...findings].sort((a, b) => ORDER[a.weight] - ORDER[b.weight])
}
