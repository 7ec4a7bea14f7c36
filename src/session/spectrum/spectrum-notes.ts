import * as v from 'valibot'
import * as q from '../../log/schema/quantities.ts'
import { lampData } from '../kit/kit-data.ts'
import { instrumentResponse, nmRange } from '../kit/response-data.ts'
import type { ImportedText } from './imported-files.ts'
import type { FurtherReference } from './model-types.ts'
import { FIRST_TABLE_UNCERTAINTY } from './window-choice.ts'

/** What was said about the open spectra; written by this app on this device. */
const key = v.nullable(v.string())

export const spectrumNotesShape = v.object({
  step: v.picklist(['instrument', 'glow']),
  roles: v.object({
    lamp: key,
    lampDark: key,
    glow: key,
    glowDark: key,
    window: v.optional(key, null),
  }),
  storedResponse: key,
  range: v.nullable(nmRange),
  instrument: instrumentResponse.entries.instrument,
  emitter: v.picklist(['tungsten', 'black body', 'surface', 'calibration']),
  surfaceId: v.optional(v.string(), 'steel-oxidised'),
  quantity: v.optional(v.nullable(v.picklist(['power', 'photons'])), null),
  moreResponses: v.optional(v.array(v.string()), []),
  statedGlow: v.optional(v.boolean(), false),
  black: v.object({ temperatureK: q.temperatureK, standardUncertaintyK: q.uncertaintyK }),
  lampForm: v.object({
    name: v.string(),
    method: v.picklist(['rated', 'volts', 'watts', 'resistance']),
    second: v.picklist(['amperes', 'watts']),
    lamp: lampData,
    roomK: q.temperatureK,
    dimmerWatts: v.optional(v.nullable(q.electrical), null),
    typed: v.object({
      volts: v.string(),
      amperes: v.string(),
      watts: v.string(),
      coldOhms: v.string(),
    }),
  }),
  responseName: v.string(),
  settings: v.string(),
  materialId: v.string(),
  cover: v.string(),
  windowUnit: v.optional(v.nullable(v.picklist(['share', 'percent'])), null),
  windowUncertainty: v.optional(v.nullable(q.lnUncertainty), FIRST_TABLE_UNCERTAINTY),
  ratioNm: v.tuple([q.wavelengthNm, q.wavelengthNm]),
  object: v.string(),
  remarks: v.string(),
})
export type SpectrumNotes = v.InferOutput<typeof spectrumNotesShape>

export const importedTextsShape = v.array(
  v.object({
    id: v.string(),
    name: v.string(),
    step: v.picklist(['instrument', 'glow', 'window']),
    text: v.string(),
    choices: v.looseObject({}),
    simulated: v.nullable(v.object({ truthK: v.nullable(q.temperatureK) })),
  }),
)

/** Null for a shape that does not fit (an older version's): it is then not taken up. */
export function spectrumNotesFrom(value: unknown): SpectrumNotes | null {
  const parsed = v.safeParse(spectrumNotesShape, value)
  return parsed.success ? parsed.output : null
}

export function textsFrom(value: unknown): readonly ImportedText[] {
  const parsed = v.safeParse(importedTextsShape, value)
  return parsed.success ? (parsed.output as readonly ImportedText[]) : []
}

export const furtherShape = v.array(
  v.object({ id: v.string(), response: instrumentResponse, simulated: v.boolean() }),
)

/** References put beside; the schema leaves the findings' details open. */
export function furtherFrom(value: unknown): readonly FurtherReference[] {
  const parsed = v.safeParse(furtherShape, value)
  return parsed.success ? (parsed.output as readonly FurtherReference[]) : []
}
