import type { KnownHeatReference } from './types.ts'

/** Photos of one melting point taken no further apart show one melt; common practice. */
const ONE_MELT_MS = 20 * 60_000

/**
 * The references with photos of one melt in one group: watched once, they err together in its
 * temperature, however many photos there are. Another pinch is another melt.
 */
export function meltEvents(references: readonly KnownHeatReference[]): KnownHeatReference[] {
  const byTime = references
    .map((reference) => ({ reference, at: Date.parse(reference.takenAt) }))
    .filter(({ reference, at }) => reference.group === null && Number.isFinite(at))
    .sort((a, b) => a.at - b.at)
  const groups = new Map<string, string>()
  for (const [i, { reference, at }] of byTime.entries()) {
    const before = byTime
      .slice(0, i)
      .findLast((other) => sameHeat(other.reference, reference) && at - other.at <= ONE_MELT_MS)
    if (!before) continue
    const group = groups.get(before.reference.id) ?? `melt ${before.reference.id}`
    groups.set(before.reference.id, group)
    groups.set(reference.id, group)
  }
  return references.map((one) => {
    const group = groups.get(one.id)
    return group === undefined ? one : { ...one, group }
  })
}

const sameHeat = (a: KnownHeatReference, b: KnownHeatReference): boolean =>
  a.cameraId === b.cameraId &&
  a.temperatureK === b.temperatureK &&
  a.standardUncertaintyK === b.standardUncertaintyK
