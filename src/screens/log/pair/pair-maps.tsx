import { useEffect, useState } from 'preact/hooks'
import type { MapChangeResult } from '../../../estimate/map/map-change.ts'
import type { Reading } from '../../../log/schema/types.ts'
import type { MapsRefusal } from '../../../session/log/compare-maps.ts'
import { later } from '../../../ui/later.tsx'
import { OpenDetails } from '../../../ui/open-details.tsx'
import { showMoment } from '../../../ui/words/dates.ts'
import { MAP_CHANGE_WORDS } from '../../../ui/words/map-change.ts'
import { PRACTICE_LABEL } from '../../../ui/words/measurement.ts'

interface Props {
  readonly earlier: Reading
  readonly later: Reading
}

type Found = MapChangeResult | MapsRefusal | { readonly kind: 'making' | 'failed' }

const WHY_NOT = {
  making: MAP_CHANGE_WORDS.making,
  failed: MAP_CHANGE_WORDS.failed,
  unreadable: MAP_CHANGE_WORDS.unreadable,
  'no figure': MAP_CHANGE_WORDS.noFigure,
  'other size': MAP_CHANGE_WORDS.otherSize,
  'other view': MAP_CHANGE_WORDS.otherView,
  'too few': MAP_CHANGE_WORDS.tooFew,
} as const

const Change = later<Props>(
  async () => {
    const [{ ChangeView }, { compareMaps }] = await Promise.all([
      import('../../../ui/heat-map/change-view.tsx'),
      import('../../../session/log/compare-maps.ts'),
    ])
    return function Subtracted({ earlier, later }: Props) {
      const [found, setFound] = useState<Found>({ kind: 'making' })
      useEffect(() => {
        const stop = new AbortController()
        compareMaps(earlier, later, stop.signal).then(setFound, () => {
          if (!stop.signal.aborted) setFound({ kind: 'failed' })
        })
        return () => stop.abort()
      }, [earlier, later])
      if (found.kind === 'change')
        return <ChangeView change={found} note={noteOf(earlier, later)} />
      return <p class={found.kind === 'making' ? 'soft' : ''}>{WHY_NOT[found.kind]}</p>
    }
  },
  <p class="soft">{MAP_CHANGE_WORDS.making}</p>,
)

const noteOf = (earlier: Reading, later: Reading): string =>
  [
    (earlier.simulated || later.simulated) && PRACTICE_LABEL,
    later.object || earlier.object,
    `${showMoment(earlier.takenAt.iso)} to ${showMoment(later.takenAt.iso)}`,
  ]
    .filter(Boolean)
    .join(', ')

/** Two kept maps of one view, subtracted when it is opened. */
export function PairMaps({ one, two }: { one: Reading; two: Reading }) {
  const inOrder = Date.parse(one.takenAt.iso) <= Date.parse(two.takenAt.iso)
  const [earlier, later] = inOrder ? [one, two] : [two, one]
  return (
    <OpenDetails summary={MAP_CHANGE_WORDS.summary}>
      {() => (
        <div class="inside">
          <Change earlier={earlier} later={later} />
        </div>
      )}
    </OpenDetails>
  )
}
