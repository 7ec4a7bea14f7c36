import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { later } from '../../ui/later.tsx'
import { OpenDetails } from '../../ui/open-details.tsx'
import { MAP_WORDS } from '../../ui/words/heat-map.ts'

const MapPanel = later<{ model: ReadingModel }>(
  async () => (await import('./map-panel.tsx')).MapPanel,
  <p class="soft">{MAP_WORDS.making}</p>,
)

/** The map is heavy and not always wanted: it comes when it is opened. */
export function MapDetails({ model }: { model: ReadingModel }) {
  return (
    <OpenDetails summary={MAP_WORDS.summary}>
      {() => (
        <div class="inside">
          <MapPanel model={model} />
        </div>
      )}
    </OpenDetails>
  )
}
