import { useSignal } from '@preact/signals'
import { deviceZone, momentOf } from '../../log/schema/moment.ts'
import { takenAtOf } from '../../session/reading/photo-meaning.ts'
import type { ReadingModel } from '../../session/reading/reading-model.ts'
import { readingRecord } from '../../session/reading/reading-record.ts'
import { useServices } from '../../session/services.ts'
import { SaveDock } from '../../ui/save-dock.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { showMoment } from '../../ui/words/dates.ts'

/** Saves the reading with a small picture of its region. */
export function SavePanel({ model }: { model: ReadingModel }) {
  const { now } = useServices()
  const object = useSignal('')
  const notes = useSignal('')
  const dated = useSignal<'photo' | 'now'>('photo')
  const estimate = model.estimate.value
  const measurement = model.measurement.value
  const photo = model.glow.photo.value
  if (!photo) return null
  return (
    <SaveDock
      object={object}
      notes={notes}
      ready={estimate !== null && measurement !== null}
      what={estimate}
      save={async (log) => {
        if (!estimate || !measurement) throw new Error('saving waits for an estimate')
        const record = readingRecord({
          estimate,
          input: model.input.value,
          measurement,
          photo,
          simulatedTruthK: model.simulatedTruthK.value,
          cover: model.choices.value.cover,
          materialId: model.choices.value.materialId,
          labels: { object: object.value, notes: notes.value },
          takenAt:
            dated.value === 'photo' ? takenAtOf(photo.facts, now()) : momentOf(now(), deviceZone()),
        })
        // A reading without its picture is better than none.
        const picture = await photo.regionPicture(measurement.region).catch(() => undefined)
        return (await log.add(record, picture)).id
      }}
    >
      {photo.facts.takenAt !== null && (
        <SelectField
          label="Time of the reading"
          of={[
            ['photo', `${showMoment(photo.facts.takenAt)}, camera`],
            ['now', 'Now'],
          ]}
          value={dated.value}
          onValue={(from) => {
            dated.value = from
          }}
        />
      )}
    </SaveDock>
  )
}
