import { useEffect, useMemo, useState } from 'preact/hooks'
import { currentResult } from '../../log/schema/reading-schema.ts'
import type { Reading } from '../../log/schema/types.ts'
import { keptMapsLike } from '../../session/log/kept-maps.ts'
import { mappedInHand } from '../../session/reading/mapped-in-hand.ts'
import { takenAtOf } from '../../session/reading/photo-meaning.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import type { MadeMap } from '../../sources/map/map-operations.ts'
import { SubtractedMaps } from '../../ui/heat-map/subtracted-maps.tsx'
import { sayFailure } from '../../ui/say-failure.ts'
import { SelectField } from '../../ui/select-field.tsx'
import { showTemperature } from '../../ui/temperature.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { MAP_CHANGE_WORDS } from '../../ui/words/map-change.ts'

/** The open photo's map less one of the log, of the same view. */
export function KeptMapChange({ model, made }: { model: ReadingModel; made: MadeMap }) {
  const { log, now } = useServices()
  const [kept, setKept] = useState<readonly Reading[] | null>(null)
  const [chosen, setChosen] = useState('')
  const photo = model.glow.photo.value
  const inHand = useMemo(
    () => photo && mappedInHand(model, made, takenAtOf(photo.facts, now())),
    [model, made, photo, now],
  )
  useEffect(() => {
    let wanted = true
    if (photo && inHand) {
      log
        .then((opened) => keptMapsLike(opened, photo, inHand.object, inHand.simulated))
        .then((found) => wanted && setKept(found))
        .catch(sayFailure)
    }
    return () => {
      wanted = false
    }
  }, [log, photo, inHand])
  if (!kept || !inHand) return <p class="soft">{MAP_CHANGE_WORDS.looking}</p>
  const against = kept.find(({ id }) => id === chosen) ?? kept[0]
  if (!against) return <p>{MAP_CHANGE_WORDS.noneKept}</p>
  return (
    <>
      {kept.length > 1 && (
        <SelectField
          label={MAP_CHANGE_WORDS.keptMap}
          value={against.id}
          of={kept.map((reading) => [reading.id, nameOf(reading)] as const)}
          onValue={setChosen}
        />
      )}
      {kept.length === 1 && <p>{nameOf(against)}</p>}
      <SubtractedMaps key={against.id} one={inHand} two={against} />
    </>
  )
}

function nameOf(reading: Reading): string {
  const result = currentResult(reading)
  const figure = result.kind === 'temperature' && showTemperature(result.temperatureK)
  return [showMoment(reading.takenAt.iso), reading.object, figure].filter(Boolean).join(', ')
}
