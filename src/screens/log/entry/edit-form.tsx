import type { Changes, Reading } from '../../../log/schema/types.ts'
import type { ListModel } from '../../../session/log/list-model.ts'
import { say } from '../../../ui/spoken.tsx'
import { DraftForm } from './draft-form.tsx'

/** Changes what was said of a reading; the former values are kept with it. */
export function EditForm({
  reading,
  list,
  onSave,
  onDone,
}: {
  reading: Reading
  list: ListModel
  onSave: (changes: Changes) => Promise<void>
  onDone: () => void
}) {
  return (
    <DraftForm
      draftKey={reading.id}
      of={reading}
      figure={reading.method === 'by hand' ? 'typed' : 'measured'}
      list={list}
      saveWord="Save changes"
      onSave={async (changes) => {
        await onSave(changes)
        say('Saved. The former values are kept.')
        onDone()
      }}
      onDiscard={onDone}
    />
  )
}
