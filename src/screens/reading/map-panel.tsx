import { useEffect, useMemo } from 'preact/hooks'
import { createMapModel } from '../../session/reading/map-model.ts'
import { takenAtOf } from '../../session/reading/photo-meaning.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { MapView } from '../../ui/heat-map/map-view.tsx'
import { OpenDetails } from '../../ui/open-details.tsx'
import { showMoment } from '../../ui/words/dates.ts'
import { MAP_WORDS } from '../../ui/words/heat-map.ts'
import { MAP_CHANGE_WORDS } from '../../ui/words/map-change.ts'
import { PRACTICE_LABEL } from '../../ui/words/measurement.ts'
import { KeptMapChange } from './kept-map-change.tsx'

/** The heat over the open photo; made while it is in sight. */
export function MapPanel({ model }: { model: ReadingModel }) {
  const { now } = useServices()
  const maps = useMemo(() => createMapModel(model), [model])
  useEffect(() => () => maps.dispose(), [maps])
  const state = maps.state.value
  const photo = model.glow.photo.value
  if (state.kind === 'waiting') return <p class="soft">{MAP_WORDS.making}</p>
  if (state.kind === 'failed') return <p role="alert">{MAP_WORDS.failed}</p>
  if (state.kind === 'none') {
    return (
      <>
        <p>{MAP_WORDS.tooLittle}</p>
        <p class="soft">{MAP_WORDS.tooLittleTodo}</p>
      </>
    )
  }
  const picture = photo && { url: photo.pictureUrl, width: photo.width, height: photo.height }
  const simulated = model.simulatedTruthK.value !== null
  const note = [
    simulated && PRACTICE_LABEL,
    model.object.value.trim(),
    photo && showMoment(takenAtOf(photo.facts, now()).iso),
  ]
  return (
    <>
      <MapView
        map={state.map}
        evenness={state.evenness}
        picture={picture}
        note={note.filter(Boolean).join(', ')}
      />
      <OpenDetails summary={MAP_CHANGE_WORDS.withKept}>
        {() => (
          <div class="inside">
            <KeptMapChange model={model} made={state} />
          </div>
        )}
      </OpenDetails>
    </>
  )
}
