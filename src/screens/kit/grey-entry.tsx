import type { KitItem } from '../../log/schema/types.ts'
import type { StoredGrey } from '../../session/kit/stored-items.ts'
import { Entry, EntryActions, Facts } from '../../ui/kit-entry.tsx'
import { showDay, showMoment } from '../../ui/words/dates.ts'
import { lightWords } from '../../ui/words/kit.ts'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'

export function GreyEntry({ grey, item }: { grey: StoredGrey; item: KitItem }) {
  const light = lightWords(grey.balance.light)
  return (
    <Entry
      title={grey.name}
      line={`${showDay(item.date.iso)} · ${light}`}
      tags={item.simulated ? [PRACTICE_LABEL] : []}
    >
      <Facts
        rows={[
          ['Light on it', light],
          ['Taken', showMoment(item.date.iso)],
          ['Camera', grey.cameraId ?? 'not stated'],
        ]}
      />
      <EntryActions id={grey.id} name={grey.name} />
    </Entry>
  )
}
