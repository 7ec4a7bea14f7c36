import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import {
  createExportModel,
  type Exportable,
  type ExportFormat,
} from '../../../session/log/export-model.ts'
import { useServices } from '../../../session/services.ts'
import { Notices } from '../../../ui/notices.tsx'
import { Segments } from '../../../ui/segments.tsx'
import { showBytes } from '../../../ui/words/log.ts'
import { noticeOfLogFailure } from '../../../ui/words/log-errors.ts'
import { FORMAT_WORDS } from '../../../ui/words/storage.ts'
import { ProgressLine } from '../progress-line.tsx'

const FORMATS: readonly ExportFormat[] = ['zip', 'json', 'csv']

/** Readings as a file: made first, with progress and a stop, then shared or saved by a tap. */
export function ExportPanel({
  ids,
  from,
}: {
  ids: readonly string[] | null
  from?: Promise<Exportable>
}) {
  const services = useServices()
  const { now } = services
  const log = from ?? services.log
  const model = useMemo(() => createExportModel(log, ids, now), [log, ids, now])
  useEffect(() => () => model.stop(), [model])
  const format = useSignal<ExportFormat>('zip')
  const state = model.state.value
  const failure = noticeOfLogFailure(model.failure.value)
  return (
    <div class="stack">
      {failure && <Notices notices={[failure]} />}
      {state.kind === 'idle' && (
        <>
          <Segments
            of={FORMATS.map((one) => [one, FORMAT_WORDS[one].name] as const)}
            chosen={format.value}
            onChoose={(one) => {
              format.value = one
            }}
          />
          <p class="small soft">{FORMAT_WORDS[format.value].line}</p>
          <button type="button" class="primary" onClick={() => void model.make(format.value)}>
            Make the file
          </button>
        </>
      )}
      {state.kind === 'making' && (
        <ProgressLine
          label="Making the file"
          done={state.done}
          total={state.total}
          onStop={model.stop}
        />
      )}
      {state.kind === 'made' && (
        <>
          <p>
            {state.file.name}, {showBytes(state.file.size)}
          </p>
          {state.damaged > 0 && (
            <p class="small soft">
              {state.damaged} damaged {state.damaged === 1 ? 'record is' : 'records are'} not in it;
              open them in the log to take their text.
            </p>
          )}
          <div class="row tight">
            <button type="button" class="grow" onClick={model.reset}>
              Discard
            </button>
            <button type="button" class="primary grow" onClick={() => void model.leave()}>
              {state.shareable ? 'Share it' : 'Save it'}
            </button>
          </div>
        </>
      )}
      {state.kind === 'left' && (
        <>
          <p role="status">
            {state.name} is {state.how === 'shared' ? 'shared' : 'among your downloads'}.
          </p>
          <button type="button" onClick={model.reset}>
            Another file
          </button>
        </>
      )}
    </div>
  )
}
