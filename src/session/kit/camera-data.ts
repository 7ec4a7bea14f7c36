/**
 * What a kit item of kind `camera` holds: what the person has said of one device. Its cards, tone
 * curves and known heats are items of their own and belong to it by their camera id.
 */
import * as v from 'valibot'
import type { FlatField } from '../../light/flat-field.ts'
import { lnRatio, lnUncertainty, share, wholeWithin } from '../../log/schema/quantities.ts'
import { storing } from '../stored-shape.ts'
import { balanceState, channels, leakTests, measuredExposures } from './kit-data.ts'

const text = v.pipe(v.string(), v.maxLength(400))

/** What the file said when the lock was stated: a later file that says otherwise contradicts it. */
const lockFacts = v.object({
  exposureProgram: v.optional(v.nullable(wholeWithin(0, 255)), null),
  software: v.nullable(text),
  lens: v.nullable(text),
})

const lock = v.variant('kind', [
  v.object({
    kind: v.literal('locked'),
    state: balanceState,
    /** ISO 8601, when it was stated. */
    since: text,
    facts: lockFacts,
  }),
  /** It cannot be locked: raw photos, or the grey card in every picture. */
  v.object({
    kind: v.literal('cannot be locked'),
    way: v.picklist(['raw', 'card in picture']),
    since: text,
  }),
])
export type CameraLock = v.InferOutput<typeof lock>

/** Where the card lies in pictures of this camera, as shares of width and height. */
const cardPlace = v.object({ x: share, y: share, width: share, height: share })
export type CardPlace = v.InferOutput<typeof cardPlace>

/** What was read last with it. */
const usual = v.object({ object: text, materialId: text, cover: text })
export type UsualWork = v.InferOutput<typeof usual>

/** What its lenses do to colour between middle and corners, by lens and channels. */
const flatField = v.object({
  lens: v.nullable(text),
  channels,
  /** ISO 8601, when it was found. */
  at: text,
  field: storing<FlatField>()(
    v.object({ green: lnRatio, blue: lnRatio, uncertainty: lnUncertainty }),
  ),
})
export type StoredFlatField = v.InferOutput<typeof flatField>

export const STEP_IDS = ['lock', 'card', 'sweep', 'heat'] as const
export type StepId = (typeof STEP_IDS)[number]

export const cameraData = v.looseObject({
  /** Make and model as the files state them, or the name that the person gave. */
  device: v.pipe(text, v.nonEmpty()),
  /** The files do not say: the person did. */
  named: v.optional(v.boolean(), false),
  lock: v.optional(v.nullable(lock), null),
  usual: v.optional(v.nullable(usual), null),
  /** Whether its filter lets infrared through, as the person has tried. */
  leakTests: v.optional(leakTests, () => []),
  /** What its exposure settings have been seen to gather; ISO 8601, when. */
  exposures: v.optional(measuredExposures, () => []),
  exposuresAt: v.optional(text, ''),
  cardPlace: v.optional(v.nullable(cardPlace), null),
  flatFields: v.optional(v.pipe(v.array(flatField), v.maxLength(20)), () => []),
  /** ISO 8601, the latest photo. */
  usedAt: v.optional(text, ''),
  /** Ids of the browser's video devices that are this camera. */
  liveIds: v.optional(v.pipe(v.array(text), v.maxLength(20)), () => []),
  /** Steps of making it ready that the person does not want. */
  skipped: v.optional(v.pipe(v.array(v.picklist(STEP_IDS)), v.maxLength(4)), () => []),
})
export type CameraData = v.InferOutput<typeof cameraData>
