import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { currentResult } from '../../../log/schema/reading-schema.ts'
import type { Reading } from '../../../log/schema/types.ts'
import { carriedReading } from '../../../session/carried-reading.ts'
import { hasEntryDraft } from '../../../session/log/entry-draft.ts'
import { createEntryModel, type EntryModel } from '../../../session/log/entry-model.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { useServices } from '../../../session/services.ts'
import { Notices } from '../../../ui/notices.tsx'
import { OtherEstimates } from '../../../ui/other-estimates.tsx'
import { go } from '../../../ui/router.ts'
import { sayFailure } from '../../../ui/say-failure.ts'
import { ShareButton } from '../../../ui/share-button.tsx'
import { say } from '../../../ui/spoken.tsx'
import { noticeOfLogFailure } from '../../../ui/words/log-errors.ts'
import { METHOD_NAMES } from '../../../ui/words/methods.ts'
import { deleteReadings } from '../delete-readings.ts'
import css from '../log.module.css'
import { hrefOfPlace } from '../log-place.ts'
import { PrintFoot } from '../print-foot.tsx'
import { printPage } from '../print-page.ts'
import { ExportDialog } from '../storage/export-dialog.tsx'
import { DamagedEntry } from './damaged-entry.tsx'
import { EditForm } from './edit-form.tsx'
import { EntryDetails, EntryFacts } from './entry-facts.tsx'
import { EntryHistory } from './entry-history.tsx'
import { EntryResult } from './entry-result.tsx'
import { againWords, RecomputePanel, useRecomputeOffer } from './recompute-panel.tsx'

/** One reading, whole: its figure, its picture, what it rests on, and what was said of it. */
export function ReadingEntry({ id, list }: { id: string; list: ListModel }) {
  const { log } = useServices()
  const model = useMemo(() => createEntryModel(log, id), [log, id])
  useEffect(() => () => model.dispose(), [model])
  const editing = useSignal(hasEntryDraft(id))
  const found = model.stored.value
  const failure = noticeOfLogFailure(model.failure.value)
  const remove = () => {
    deleteReadings(log, [id]).then(() => go('log'), sayFailure)
  }
  return (
    <main class={`screen ${css.log} entry`}>
      <header>
        <a class="button no-print" href="/log">
          Back
        </a>
        <h1>Reading</h1>
        {found?.state === 'sound' && !editing.value && (
          <button
            type="button"
            class="no-print"
            onClick={() => {
              editing.value = true
            }}
          >
            Edit
          </button>
        )}
      </header>
      {failure && <Notices notices={[failure]} />}
      {found === undefined && (
        <section class="card stack">
          <h2>Not in this log</h2>
          <p>
            It was deleted, or it is on another device. What was deleted today can be brought back.
          </p>
          <a class="button" href={hrefOfPlace({ kind: 'keeping' })}>
            Deleted lately
          </a>
        </section>
      )}
      {found?.state === 'damaged' && <DamagedEntry damage={found.damage} onDelete={remove} />}
      {found?.state === 'sound' && editing.value && (
        <EditForm
          reading={found.reading}
          list={list}
          onSave={(changes) => model.edit(changes)}
          onDone={() => {
            editing.value = false
          }}
        />
      )}
      {found?.state === 'sound' && !editing.value && (
        <Sound model={model} reading={found.reading} list={list} onDelete={remove} />
      )}
    </main>
  )
}

function Sound({
  model,
  reading,
  list,
  onDelete,
}: {
  model: EntryModel
  reading: Reading
  list: ListModel
  onDelete: () => void
}) {
  const taking = useSignal(false)
  const anyway = useSignal(false)
  const offer = useRecomputeOffer(reading, anyway)
  const url = model.picture.value
  const result = currentResult(reading)
  const carry = () => {
    if (result.kind !== 'temperature') return
    const { temperatureK, expandedUncertaintyK, interval95K } = result
    carriedReading.value = {
      temperatureK,
      expandedUncertaintyK,
      interval95K,
      object: reading.object,
      href: `/log/${reading.id}`,
      record: null,
    }
  }
  return (
    <>
      <div class={css.entryColumns}>
        <div class="stack">
          <EntryResult reading={reading} />
          <a class="button no-print" href={`/reading/check/${reading.id}`} onClick={carry}>
            Can that be true?
          </a>
          <OtherEstimates
            object={reading.object}
            aroundMs={Date.parse(reading.takenAt.iso)}
            simulated={reading.simulated}
            which={reading.method === 'by eye' ? 'measured' : 'by eye'}
          />
          {url && <img class={css.entryPicture} src={url} alt="The region that was read" />}
          <RecomputePanel reading={reading} offer={offer} onKeep={model.keepRecomputed} />
        </div>
        <div class="stack">
          <EntryFacts reading={reading} list={list} />
          <EntryDetails reading={reading} />
          <EntryHistory
            reading={reading}
            again={againWords(offer)}
            onLook={() => {
              anyway.value = true
            }}
          />
        </div>
      </div>
      {result.kind === 'temperature' && (
        <nav class={`row tight ${css.four} no-print`} aria-label="Take it along">
          <a class="button grow" href="/chart" onClick={carry}>
            Chart
          </a>
          <a class="button grow" href="/reading/live" onClick={carry}>
            Live
          </a>
          <a class="button grow" href="/reading/spectrum" onClick={carry}>
            Spectrum
          </a>
        </nav>
      )}
      <div class={`row tight ${css.four} no-print`}>
        {result.kind === 'temperature' && (
          <ShareButton
            reading={{
              ...result,
              object: reading.object,
              takenAt: reading.takenAt.iso,
              method: METHOD_NAMES[reading.method],
              simulated: reading.simulated,
            }}
          />
        )}
        <button
          type="button"
          class="grow"
          onClick={() => {
            list.selection.begin([reading.id])
            go('log')
            say('Choose the second reading, then Compare.')
          }}
        >
          Compare
        </button>
        <button
          type="button"
          class="grow"
          onClick={() => {
            taking.value = true
          }}
        >
          File
        </button>
        <button type="button" class="grow" onClick={printPage}>
          Print
        </button>
        <button type="button" class="danger grow" onClick={onDelete}>
          Delete
        </button>
      </div>
      <PrintFoot id={reading.id} />
      {taking.value && (
        <ExportDialog
          ids={[reading.id]}
          onClose={() => {
            taking.value = false
          }}
        />
      )}
    </>
  )
}
