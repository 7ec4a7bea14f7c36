/** Kit items as they are kept, exported and imported. Readings hold their references by value. */
import * as v from 'valibot'
import { blob, id, instant, moment, text } from './fields.ts'
import { temperatureK, uncertaintyK } from './quantities.ts'

export const KIT_VERSION = 1

export const KIT_KINDS = [
  'camera',
  'grey reference',
  'known heat',
  'lamp',
  'tone curve',
  'response',
  'material',
] as const

/** What a person may change. */
const changeableFields = {
  name: text(200),
  /** When it was made or measured: it ages. */
  date: moment,
  notes: text(20_000),
  /** The camera it belongs to (device, lens, capture path); null for a thing such as a card. */
  cameraId: v.nullable(text(200)),
  /** The white-balance state it belongs to, as a text the estimate understands. */
  balanceState: v.nullable(text(120)),
  temperatureK: v.nullable(temperatureK),
  standardUncertaintyK: v.nullable(uncertaintyK),
  /** The item itself, in the shape of those who use it (a whole reference, curve, lamp). */
  data: blob,
}

export const kitChanges = v.partial(v.strictObject(changeableFields))
export type KitChanges = v.InferOutput<typeof kitChanges>

export const kitItem = v.strictObject({
  version: v.literal(KIT_VERSION),
  id,
  kind: v.picklist(KIT_KINDS),
  addedAt: instant,
  simulated: v.boolean(),
  demo: v.boolean(),
  ...changeableFields,
})
export type KitItem = v.InferOutput<typeof kitItem>
export type KitKind = KitItem['kind']
