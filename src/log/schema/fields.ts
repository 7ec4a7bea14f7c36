/** Pieces from which the schemas of readings and kit items are built. */
import * as v from 'valibot'
import { type Json, jsonProblem } from './json-value.ts'

export const text = (most: number) => v.pipe(v.string(), v.maxLength(most))

/** UUID as RFC 9562 writes it. Nothing else is an id: it also becomes a file name in a ZIP. */
export const id = v.pipe(
  v.string(),
  v.regex(/^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$/),
)

/** ISO 8601 date and time with offset, as RFC 3339 narrows it. */
const ISO = /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?(Z|[+-]\d\d:\d\d)$/
export const instant = v.pipe(
  v.string(),
  v.regex(ISO),
  v.check((iso) => Number.isFinite(Date.parse(iso)), 'no such date'),
)

/** A moment as the clock on the wall showed it: with offset, and the zone's name when known. */
export const moment = v.strictObject({ iso: instant, zone: text(64) })
export type Moment = v.InferOutput<typeof moment>

/** Plain data whose shape belongs to those who wrote it; only its size, depth and names are ours. */
export const blob = v.custom<Json>(
  (value) => jsonProblem(value) === null,
  (issue) => jsonProblem(issue.input) ?? 'not plain data',
)

/** Tags: written once each. */
export const tags = v.pipe(v.array(v.pipe(text(60), v.minLength(1))), v.maxLength(40))
