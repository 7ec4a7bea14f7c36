import { useEffect, useState } from 'preact/hooks'
import type { Reading } from '../../../log/schema/types.ts'
import { later } from '../../../ui/later.tsx'
import { showMoment } from '../../../ui/words/dates.ts'
import { MAP_WORDS } from '../../../ui/words/heat-map.ts'
import { PRACTICE_LABEL } from '../../../ui/words/measurement.ts'

const StoredMap = later<{ reading: Reading }>(
  async () => {
    const [{ MapView }, { storedMap }] = await Promise.all([
      import('../../../ui/heat-map/map-view.tsx'),
      import('../../../session/log/stored-map.ts'),
    ])
    return function Unpacked({ reading }: { reading: Reading }) {
      const [made] = useState(() => storedMap(reading.details))
      if (!made) return <p>{MAP_WORDS.unreadable}</p>
      const note = [
        reading.simulated && PRACTICE_LABEL,
        reading.object,
        showMoment(reading.takenAt.iso),
      ]
        .filter(Boolean)
        .join(', ')
      return <MapView map={made.map} evenness={made.evenness} picture={null} note={note} />
    }
  },
  <p class="soft">{MAP_WORDS.making}</p>,
)

export function StoredMapDetails({ reading }: { reading: Reading }) {
  const [open, setOpen] = useState(false)
  useEffect(() => setOpen(false), [reading.id])
  return (
    <details open={open} onToggle={({ currentTarget }) => setOpen(currentTarget.open)}>
      <summary>{MAP_WORDS.summary}</summary>
      <div class="inside">{open && <StoredMap key={reading.id} reading={reading} />}</div>
    </details>
  )
}
