import { useState } from 'preact/hooks'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { later } from '../../ui/later.tsx'
import { MAP_WORDS } from '../../ui/words/heat-map.ts'

const MapPanel = later<{ model: ReadingModel }>(
  async () => (await import('./map-panel.tsx')).MapPanel,
  <p class="soft">{MAP_WORDS.making}</p>,
)

/** The map is heavy and not always wanted: it comes when it is opened. */
export function MapDetails({ model }: { model: ReadingModel }) {
  const [open, setOpen] = useState(false)
  return (
    <details onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>{MAP_WORDS.summary}</summary>
      <div class="inside">{open && <MapPanel model={model} />}</div>
    </details>
  )
}
