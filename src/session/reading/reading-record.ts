import { chromaticityAtHueLightness } from '../../colour/nearest-swatch.ts'
import { screenColour } from '../../colour/screen-gamut.ts'
import { METHOD_VERSION } from '../../estimate/method-version.ts'
import { cameraCause, sharedCause } from '../../estimate/shared-cause.ts'
import type { Contribution, EyeView, GlowEstimate, GlowInput } from '../../estimate/types.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Moment } from '../../log/schema/fields.ts'
import type {
  BudgetEntry,
  Json,
  Method,
  NewReading,
  Reading,
  Result,
} from '../../log/schema/types.ts'
import { partOfCause } from '../../log/statistics/shared-terms.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import type { StoredMap } from '../log/stored-map.ts'

/** What the person adds to a reading when it is saved. */
export interface Labels {
  readonly object: string
  readonly notes: string
}

interface Parts {
  readonly estimate: GlowEstimate
  readonly input: GlowInput | null
  readonly measurement: PhotoMeasurement
  readonly photo: Photo
  readonly simulatedTruthK: number | null
  readonly cover: string
  readonly materialId: string
  readonly labels: Labels
  /** Null where the glow was not mapped. */
  readonly map?: StoredMap | null
  readonly takenAt: Moment
}

/** An estimate as the log keeps it, each term of its budget with the cause that others share. */
export function resultOf(estimate: GlowEstimate, input: GlowInput | null): Result {
  const methodVersion = METHOD_VERSION
  if (estimate.kind === 'below range') {
    return { kind: 'upper bound', temperatureK: estimate.upperBoundK, methodVersion }
  }
  if (estimate.kind === 'no number') return { kind: 'none', reason: estimate.reason, methodVersion }
  return {
    kind: 'temperature',
    temperatureK: estimate.temperatureK,
    standardUncertaintyK: estimate.standardUncertaintyK,
    expandedUncertaintyK: estimate.expandedUncertaintyK,
    interval95K: [...estimate.interval95K],
    budget: estimate.budget.flatMap((one) => entriesOf(one, input)),
    methodVersion,
  }
}

/** A term as its shared parts, with their signs, and what is left of it. */
function entriesOf(
  { term, standardUncertaintyK, parts = [] }: Contribution,
  input: GlowInput | null,
): BudgetEntry[] {
  if (input === null) return [{ term, contributionK: standardUncertaintyK, sharedBy: null }]
  const partly = parts.reduce((sum, { effectK }) => sum + effectK ** 2, 0)
  const left = Math.sqrt(Math.max(standardUncertaintyK ** 2 - partly, 0))
  const sharedBy = sharedCause(term, input)
  // What a curve errs by for all its photos is a part of its own; the rest is each photo's.
  const restSharedBy = term === 'tone curve' && parts.length > 0 ? null : sharedBy
  const rest = { term, contributionK: left, sharedBy: restSharedBy }
  const entries = parts.map(({ cause, effectK }) => ({
    term,
    contributionK: effectK,
    sharedBy: partOfCause(sharedBy ?? cameraCause(input), cause),
  }))
  return left > LEAST_REST * standardUncertaintyK ? [...entries, rest] : entries
}

/** What rounding leaves of a term that is all parts. */
const LEAST_REST = 1e-4

function methodOf(photo: Photo, input: GlowInput | null, simulated: boolean): Method {
  if (simulated) return 'practice'
  if (photo.channels === 'camera') return 'raw'
  return input?.linearity.kind === 'sweep' ? 'sweep' : 'photo'
}

/** The colour that stands beside the reading in the log: its hue at one lightness. */
export function swatchOf({ x, y }: EyeView): [number, number, number] {
  const [r, g, b] = screenColour(chromaticityAtHueLightness({ x, y }), 'display-p3').codes
  return [r, g, b]
}

/** What the log stores of the colour that the CIE observer sees. */
export const chromaticityOf = ({ x, y, u, v, cctK, duv }: EyeView): Reading['chromaticity'] => ({
  x,
  y,
  u,
  v,
  cctK,
  duv,
})

/** A reading as the log keeps it: the result, and everything needed to compute it again. */
export function readingRecord(parts: Parts): NewReading {
  const { estimate, input, measurement, photo, labels } = parts
  const { eye } = estimate
  const simulated = parts.simulatedTruthK !== null
  return {
    method: methodOf(photo, input, simulated),
    simulated,
    result: resultOf(estimate, input),
    takenAt: parts.takenAt,
    object: labels.object.trim(),
    notes: labels.notes.trim(),
    material: parts.materialId,
    cover: parts.cover,
    swatch: eye && swatchOf(eye),
    chromaticity: eye && chromaticityOf(eye),
    inputs: (input as unknown as Json) ?? null,
    details: {
      measurement,
      photo: { width: photo.width, height: photo.height, space: photo.space, facts: photo.facts },
      estimate,
      simulatedTruthK: parts.simulatedTruthK,
      ...(parts.map && { map: parts.map }),
    } as unknown as Json,
  }
}
