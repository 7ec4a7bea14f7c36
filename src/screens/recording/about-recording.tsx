/** When, how long and from what a recording was made; its object and notes can be changed. */

import type { StoredRecording } from '../../log/recordings/types.ts'
import type { RecordingModel } from '../../session/recording/recording-model.ts'
import { sayFailure } from '../../ui/say-failure.ts'
import { say } from '../../ui/spoken.tsx'
import { showFigure } from '../../ui/temperature.ts'
import { TextField } from '../../ui/text-field.tsx'
import { useTyped } from '../../ui/use-typed.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { showDuration } from '../../ui/words/duration.ts'
import { ENDED, SOURCES } from '../../ui/words/recording.ts'

export function AboutRecording({
  model,
  stored: { head },
}: {
  model: RecordingModel
  stored: StoredRecording
}) {
  const object = useTyped(`recording object ${head.id}`, head.object)
  const notes = useTyped(`recording notes ${head.id}`, head.notes)
  const changed = object.value !== head.object || notes.value !== head.notes
  const ended = ENDED[head.ended]
  return (
    <details>
      <summary>About this recording</summary>
      <div class="inside">
        <dl class="facts">
          <dt>Begun</dt>
          <dd>{showMoment(head.startedAt.iso)}</dd>
          <dt>Length</dt>
          <dd>
            {showDuration(head.durationSeconds)}, {head.readings} readings
          </dd>
          <dt>From</dt>
          <dd>
            {SOURCES[head.source]}
            {head.cameraId && `, ${head.cameraId}`}
          </dd>
          {model.details.value.heats.map((heat) => (
            <>
              <dt>Set by</dt>
              <dd>
                {heat.name}, {showFigure(heat.temperatureK, 2 * heat.standardUncertaintyK)} at{' '}
                {showDuration(heat.seconds)}
              </dd>
            </>
          ))}
          {head.marks.map((mark) => (
            <>
              <dt>{showDuration(mark.seconds)}</dt>
              <dd>
                {mark.name}
                {mark.note && `: ${mark.note}`}
              </dd>
            </>
          ))}
        </dl>
        {ended && <p class="small">{ended}</p>}
        <TextField
          label="Object"
          value={object.value}
          onValue={(value) => {
            object.value = value
          }}
        />
        <label class="field">
          <span>Notes</span>
          <textarea
            rows={3}
            maxLength={20_000}
            value={notes.value}
            onInput={(event) => {
              notes.value = event.currentTarget.value
            }}
          />
        </label>
        <button
          type="button"
          disabled={!changed}
          onClick={() =>
            void model
              .change({ object: object.value.trim(), notes: notes.value })
              .then(() => say('Saved.'), sayFailure)
          }
        >
          Save changes
        </button>
      </div>
    </details>
  )
}
