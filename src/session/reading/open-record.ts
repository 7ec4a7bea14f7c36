import type { Moment } from '../../log/schema/fields.ts'
import type { NewReading, Reading } from '../../log/schema/types.ts'
import { wholeReading } from '../../log/schema/whole-reading.ts'
import { OPEN } from '../carried-reading.ts'
import type { StoredMap } from '../log/stored-map.ts'
import { takenAtOf } from './photo-meaning.ts'
import type { ReadingModel } from './reading-model-type.ts'
import { readingRecord } from './reading-record.ts'

interface Said {
  readonly takenAt: Moment
  readonly notes?: string
  readonly map?: StoredMap | null
}

/** What the log would keep of the open reading; null while it is measured. */
export function recordToSave(model: ReadingModel, said: Said): NewReading | null {
  const estimate = model.estimate.peek()
  const measurement = model.measurement.peek()
  const photo = model.glow.photo.peek()
  if (!estimate || !measurement || !photo) return null
  const { cover, materialId } = model.choices.peek()
  return readingRecord({
    estimate,
    input: model.input.peek(),
    measurement,
    photo,
    simulatedTruthK: model.simulatedTruthK.peek(),
    cover,
    materialId,
    map: said.map ?? null,
    labels: { object: model.object.peek(), notes: said.notes ?? '' },
    takenAt: said.takenAt,
  })
}

/** The open reading as the other screens take it along, before it is saved. */
export function openRecord(model: ReadingModel, now: Date): Reading | null {
  const photo = model.glow.photo.peek()
  if (!photo) return null
  const takenAt = takenAtOf(photo.facts, now)
  const draft = recordToSave(model, { takenAt })
  return draft && wholeReading(draft, { id: OPEN, savedAt: now.toISOString(), takenAt })
}
