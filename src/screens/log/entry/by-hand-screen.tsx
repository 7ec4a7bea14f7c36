import { useMemo } from 'preact/hooks'
import { deviceZone, momentOf } from '../../../log/schema/moment.ts'
import { UNSAID } from '../../../log/schema/reading-schema.ts'
import type { Editable } from '../../../log/schema/types.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { useServices } from '../../../session/services.ts'
import { go } from '../../../ui/router.ts'
import { askToKeep } from '../../../ui/settings.ts'
import { say } from '../../../ui/spoken.tsx'
import css from '../log.module.css'
import { DraftForm } from './draft-form.tsx'

/** A temperature that came from elsewhere (a thermocouple, a pyrometer, a neighbour), written down. */
export function ByHandScreen({ list }: { list: ListModel }) {
  const { log, now } = useServices()
  const blank = useMemo(
    (): Editable => ({ ...UNSAID, takenAt: momentOf(now(), deviceZone()) }),
    [now],
  )
  return (
    <main class={`screen ${css.log} entry`}>
      <header>
        <a class="button" href="/log">
          Back
        </a>
        <h1>Enter by hand</h1>
      </header>
      <DraftForm
        draftKey="by hand"
        of={blank}
        figure="to be typed"
        list={list}
        saveWord="Save reading"
        onSave={async ({ result, ...said }) => {
          if (!result) return
          const opened = await log
          const { id } = await opened.add({
            method: 'by hand',
            ...blank,
            ...(said as Partial<Editable>),
            result,
          })
          go('log', id)
          say('Saved.')
          void askToKeep(opened)
        }}
        onDiscard={() => go('log')}
      />
    </main>
  )
}
