import * as v from 'valibot'

/** ISO 8601 date and time of the camera's clock, with its offset from UTC where the camera states it. */
const takenAt = v.pipe(
  v.string(),
  v.regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{1,3})?(Z|[+-]\d\d:\d\d)?$/),
  v.check((text) => Number.isFinite(Date.parse(text))),
)

const between = (low: number, high: number) =>
  v.pipe(v.number(), v.finite(), v.minValue(low), v.maxValue(high))

/** One byte in EXIF's tables; 0 is "not defined". */
const code = v.pipe(between(1, 255), v.integer())

const shortText = v.pipe(v.string(), v.nonEmpty(), v.maxLength(80))

/**
 * What a photo says about how it was taken. Plain JSON; null is "not stated". Where it was taken is
 * not read at all.
 */
export const photoFacts = v.strictObject({
  takenAt: v.nullable(takenAt),
  /** Exposure time, s. */
  exposureSeconds: v.nullable(between(1e-7, 1e5)),
  /** Sensitivity as ISO speed. */
  iso: v.nullable(between(1, 1e7)),
  /** Aperture as f-number. */
  fNumber: v.nullable(between(0.3, 1000)),
  whiteBalance: v.nullable(v.picklist(['automatic', 'manual'])),
  /** EXIF LightSource: 1 daylight, 3 tungsten, 17 illuminant A, 20 D55, 21 D65, 23 D50, ... */
  lightSource: v.nullable(code),
  flashFired: v.nullable(v.boolean()),
  /** EXIF ExposureProgram: 1 manual, 2 automatic, 3 aperture priority, ... */
  exposureProgram: v.nullable(code),
  make: v.nullable(shortText),
  model: v.nullable(shortText),
  lens: v.nullable(shortText),
  software: v.nullable(shortText),
})
export type PhotoFacts = v.InferOutput<typeof photoFacts>

export const NO_FACTS: PhotoFacts = {
  takenAt: null,
  exposureSeconds: null,
  iso: null,
  fNumber: null,
  whiteBalance: null,
  lightSource: null,
  flashFired: null,
  exposureProgram: null,
  make: null,
  model: null,
  lens: null,
  software: null,
}

/**
 * Facts out of outside data: each field by itself, so that one hostile or nonsensical value costs
 * only itself.
 */
export function soundFacts(raw: { readonly [K in keyof PhotoFacts]?: unknown }): PhotoFacts {
  const entries = Object.entries(photoFacts.entries).map(([name, schema]) => {
    const parsed = v.safeParse(schema, raw[name as keyof PhotoFacts] ?? null)
    return [name, parsed.success ? parsed.output : null]
  })
  return v.parse(photoFacts, Object.fromEntries(entries))
}

/**
 * Light that the exposure let in, relative to 1 s at f/1 and ISO 100: exposure ratios of a sweep are
 * quotients of it. Null where time, aperture or sensitivity is missing.
 *
 * Source: ISO 2720, H proportional to t / N²; sensitivity as gain on it.
 */
export function exposureFromFacts(facts: PhotoFacts): number | null {
  const { exposureSeconds, fNumber, iso } = facts
  if (exposureSeconds === null || fNumber === null || iso === null) return null
  return (exposureSeconds / fNumber ** 2) * (iso / 100)
}
