import type { StoredLamp } from '../../session/kit/stored-items.ts'
import { Entry, EntryActions, Facts } from '../../ui/kit-entry.tsx'
import { showDay } from '../../ui/words/dates.ts'
import { colourTemperatureWords, LAMP_KINDS } from '../../ui/words/lamps.ts'

export function LampEntry({ kept, photos }: { kept: StoredLamp; photos: number }) {
  const { item, lamp } = kept
  const { rating, ratedVolts, ratedWatts, cold } = lamp
  const rated = [
    ratedVolts === null ? '' : `${ratedVolts} V`,
    ratedWatts === null ? '' : `${ratedWatts} W`,
  ].filter(Boolean)
  return (
    <Entry
      title={item.name}
      figure={`${rating.colourTemperatureK.toFixed(0)} K rated`}
      line={[...rated, photos === 1 ? '1 photo' : `${photos} photos`].join(' · ')}
    >
      <Facts
        rows={[
          ['Kind', LAMP_KINDS[lamp.ratingKind]],
          ['Rated', colourTemperatureWords(rating.colourTemperatureK, rating.standardUncertaintyK)],
          ...(cold ? [['Cold', `${cold.ohms.value} Ω`] as const] : []),
          ['Kept', showDay(item.date.iso)],
        ]}
      />
      <a class="button primary" href={`/kit/lamp/${item.id}`}>
        Measure and photograph
      </a>
      <EntryActions id={item.id} name={item.name} />
    </Entry>
  )
}
