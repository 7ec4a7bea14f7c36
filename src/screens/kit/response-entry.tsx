import type { StoredResponse } from '../../session/kit/stored-items.ts'
import { useServices } from '../../session/services.ts'
import { Entry, EntryActions, Facts } from '../../ui/kit-entry.tsx'
import { go } from '../../ui/router.ts'
import { showDay } from '../../ui/words/dates.ts'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'
import { responseFacts } from '../../ui/words/response-facts.ts'
import { RESPONSE_SETTINGS, stretchWords } from '../../ui/words/spectrum.ts'

/** A spectrometer's response, with the settings it holds for. */
export function ResponseEntry({ kept }: { kept: StoredResponse }) {
  const { kit } = useServices()
  const { item, response, range } = kept
  const open = async () => {
    // What reads and fits comes when it is used.
    const { openSpectrum } = await import('../../session/spectrum/spectrum-draft.ts')
    const model = openSpectrum(kit)
    await model.resumed
    model.useStored(item.id)
    model.step.value = 'glow'
    go('reading', 'spectrum')
  }
  return (
    <Entry
      title={item.name}
      figure={stretchWords(range ?? response.range)}
      line={[showDay(item.date.iso), item.notes].filter(Boolean).join(' · ')}
      tags={item.simulated ? [PRACTICE_LABEL] : []}
    >
      <Facts rows={responseFacts(kept)} />
      <button type="button" class="primary wide" onClick={() => void open()}>
        Read a glow with it
      </button>
      <EntryActions
        id={item.id}
        name={item.name}
        notes={{ label: RESPONSE_SETTINGS, text: item.notes }}
      />
    </Entry>
  )
}
