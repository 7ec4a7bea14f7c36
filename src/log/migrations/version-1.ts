/** Version 1: readings by id, pictures and grey references beside them. */
import type { IDBPDatabase } from 'idb'
import * as v from 'valibot'
import { blob, id, instant, text } from '../schema/fields.ts'
import { within } from '../schema/quantities.ts'

export function upgradeTo1(db: IDBPDatabase<unknown>): void {
  db.createObjectStore('readings', { keyPath: 'id' })
  db.createObjectStore('pictures', { keyPath: 'id' })
  db.createObjectStore('kit', { keyPath: 'id' })
}

/** Schemas of former records never change: they say what lies in people's browsers and files. */
const number = within(-Number.MAX_VALUE, Number.MAX_VALUE)
const temperatureK = within(0, 100_000)
export const reading1 = v.strictObject({
  id,
  takenAt: instant,
  method: v.picklist(['photo', 'practice']),
  temperatureK: v.nullable(temperatureK),
  /** k = 2. */
  expandedUncertaintyK: v.nullable(number),
  /** Below range: the bound; the temperature is then null. */
  upperBoundK: v.nullable(temperatureK),
  object: text(200),
  material: text(120),
  notes: text(20_000),
  x: v.nullable(number),
  y: v.nullable(number),
  methodVersion: text(40),
  inputs: v.nullable(blob),
})

export const picture1 = v.object({
  id,
  type: v.picklist(['image/jpeg', 'image/png', 'image/webp']),
  width: number,
  height: number,
  bytes: v.instance(ArrayBuffer),
})

export const kitItem1 = v.strictObject({
  id,
  name: text(200),
  date: instant,
  data: blob,
})
