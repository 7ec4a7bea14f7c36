import { useSignal } from '@preact/signals'
import type { ListModel } from '../../../session/log/list-model.ts'
import { useServices } from '../../../session/services.ts'
import { go } from '../../../ui/router.ts'
import { sayFailure } from '../../../ui/say-failure.ts'
import { say } from '../../../ui/spoken.tsx'
import { readingsWord } from '../../../ui/words/log.ts'
import { deleteReadings } from '../delete-readings.ts'
import css from '../log.module.css'
import { restOfPlace } from '../log-place.ts'
import { ExportDialog } from '../storage/export-dialog.tsx'
import { StatisticsDialog } from './statistics-dialog.tsx'

const DIALOGS = [
  ['statistics', 'Mean'],
  ['take', 'Export'],
] as const

/** What can be done with the readings chosen, in reach of the thumb. */
export function SelectionDock({ model }: { model: ListModel }) {
  const { log } = useServices()
  const open = useSignal<(typeof DIALOGS)[number][0] | null>(null)
  const { selection } = model
  const chosen = [...(selection.chosen.value ?? [])]
  const view = model.view.value
  const count = chosen.length
  const close = () => {
    open.value = null
  }
  return (
    <div class={`dock stack ${css.choosing}`}>
      <div class="row tight">
        <span class="grow" role="status">
          {selection.gathering.value ? 'Choosing …' : `${readingsWord(count)} chosen`}
        </span>
        <button type="button" disabled={!view} onClick={() => view && void selection.all(view)}>
          All
        </button>
        <button type="button" disabled={count === 0} onClick={() => selection.none()}>
          None
        </button>
      </div>
      <div class={`row tight ${css.four}`}>
        <button
          type="button"
          class="grow"
          disabled={count < 2}
          onClick={() => {
            const [a, b] = chosen
            if (count !== 2) say('Compare takes two readings.')
            else if (a && b) go('log', restOfPlace({ kind: 'pair', ids: [a, b] }))
          }}
        >
          Compare
        </button>
        {DIALOGS.map(([dialog, name]) => (
          <button
            key={dialog}
            type="button"
            class="grow"
            disabled={count === 0}
            onClick={() => {
              open.value = dialog
            }}
          >
            {name}
          </button>
        ))}
        <button
          type="button"
          class="danger grow"
          disabled={count === 0}
          onClick={() => {
            deleteReadings(log, chosen).then(() => selection.end(), sayFailure)
          }}
        >
          Delete
        </button>
      </div>
      {open.value === 'statistics' && <StatisticsDialog ids={chosen} onClose={close} />}
      {open.value === 'take' && <ExportDialog ids={chosen} onClose={close} />}
    </div>
  )
}
