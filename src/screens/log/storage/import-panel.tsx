import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import type { ImportCounts, ImportPreview } from '../../../log/schema/import-preview.ts'
import { createImportModel, type ImportModel } from '../../../session/log/import-model.ts'
import { useServices } from '../../../session/services.ts'
import { FileButton } from '../../../ui/file-button.tsx'
import { Notices } from '../../../ui/notices.tsx'
import { showMoment } from '../../../ui/words/dates.ts'
import { noticeOfLogFailure } from '../../../ui/words/log-errors.ts'
import { COUNT_NAMES, importedSentence } from '../../../ui/words/storage.ts'
import { SummaryValue } from '../list/log-row.tsx'
import css from '../log.module.css'
import { ProgressLine } from '../progress-line.tsx'

/** A backup back into the log: what it would bring is shown before anything changes. */
export function LogImportPanel() {
  const { log } = useServices()
  const model = useMemo(() => createImportModel(log), [log])
  useEffect(
    () => () => {
      model.stop()
      model.leave()
    },
    [model],
  )
  const state = model.state.value
  const failure = noticeOfLogFailure(model.failure.value)
  return (
    <div class="stack">
      {failure && <Notices notices={[failure]} />}
      {(state.kind === 'idle' || state.kind === 'brought') && (
        <>
          {state.kind === 'brought' && <p role="status">{importedSentence(state.report)}</p>}
          <FileButton
            accept="application/json,.json,application/zip,.zip"
            onFiles={([file]) => {
              if (file) void model.read(file)
            }}
          >
            Choose a file
          </FileButton>
          <p class="small soft">ZIP or JSON from “Export”. You see what it brings first.</p>
        </>
      )}
      {(state.kind === 'reading' || state.kind === 'merging') && (
        <ProgressLine
          label={state.kind === 'reading' ? 'Looking at the file' : 'Bringing it in'}
          done={state.done}
          total={state.total}
          onStop={model.stop}
        />
      )}
      {state.kind === 'seen' && <Preview model={model} name={state.name} preview={state.preview} />}
    </div>
  )
}

const NAMES = ['new', 'same', 'conflicting', 'foreign'] as const

function Preview({
  model,
  name,
  preview,
}: {
  model: ImportModel
  name: string
  preview: ImportPreview
}) {
  const theirs = useSignal(false)
  const { readings, kit, pictures, recordings, examples } = preview
  const conflicts = readings.conflicting + kit.conflicting
  const changes = readings.new + kit.new + pictures + recordings + (theirs.value ? conflicts : 0)
  const some = (counts: ImportCounts) => NAMES.some((count) => counts[count] > 0)
  return (
    <>
      <h3>{name}</h3>
      <table class="numbers-table">
        <thead>
          <tr>
            <td />
            <th scope="col">Readings</th>
            {some(kit) && <th scope="col">Kit</th>}
          </tr>
        </thead>
        <tbody>
          {NAMES.filter((count) => count === 'new' || readings[count] + kit[count] > 0).map(
            (count) => (
              <tr key={count}>
                <th scope="row">{COUNT_NAMES[count]}</th>
                <td>{readings[count]}</td>
                {some(kit) && <td>{kit[count]}</td>}
              </tr>
            ),
          )}
          {pictures > 0 && (
            <tr>
              <th scope="row">Pictures not here yet</th>
              <td>{pictures}</td>
              {some(kit) && <td />}
            </tr>
          )}
          {recordings > 0 && (
            <tr>
              <th scope="row">Recordings not here yet</th>
              <td>{recordings}</td>
              {some(kit) && <td />}
            </tr>
          )}
        </tbody>
      </table>
      {readings.foreign > 0 && (
        <p class="small soft">
          The same entry with another measurement: what is here stays, whatever you choose.
        </p>
      )}
      {conflicts > 0 && (
        <fieldset class={css.choices}>
          <legend>Where they differ</legend>
          <label class="choice">
            <input
              type="radio"
              name="conflicts"
              checked={!theirs.value}
              onChange={() => {
                theirs.value = false
              }}
            />
            Keep what is here
          </label>
          <label class="choice">
            <input
              type="radio"
              name="conflicts"
              checked={theirs.value}
              onChange={() => {
                theirs.value = true
              }}
            />
            Take the file’s; what is here stays as former values
          </label>
        </fieldset>
      )}
      {examples.length > 0 && (
        <details>
          <summary>Some that differ</summary>
          <ul class="inside plain-list">
            {examples.map(({ here, inFile }) => (
              <li key={here.id} class="small">
                <p>{showMoment(here.takenAt)}</p>
                <p>
                  <span class="soft">Here</span> <SummaryValue summary={here} />, {named(here)}
                </p>
                <p>
                  <span class="soft">File</span> <SummaryValue summary={inFile} />, {named(inFile)}
                </p>
              </li>
            ))}
          </ul>
        </details>
      )}
      <div class="row tight">
        <button type="button" class="grow" onClick={model.leave}>
          Leave it
        </button>
        <button
          type="button"
          class="primary grow"
          disabled={changes === 0}
          onClick={() => void model.merge(theirs.value ? 'theirs' : 'mine')}
        >
          {changes === 0 ? 'Nothing new' : 'Import it'}
        </button>
      </div>
    </>
  )
}

const named = ({ object, notes }: { object: string; notes: string }) =>
  [object || 'no name', notes].filter(Boolean).join(': ')
