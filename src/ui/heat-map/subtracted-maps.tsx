import { useEffect, useState } from 'preact/hooks'
import type { MapChangeResult } from '../../estimate/map/map-change.ts'
import type { MappedReading, MapsRefusal } from '../../session/log/compare-maps.ts'
import { later } from '../later.tsx'
import { showMoment } from '../words/dates.ts'
import { MAP_CHANGE_WORDS } from '../words/map-change.ts'
import { PRACTICE_LABEL } from '../words/measurement.ts'

interface Props {
  readonly earlier: MappedReading
  readonly later: MappedReading
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
      import('./change-view.tsx'),
      import('../../session/log/compare-maps.ts'),
    ])
    return function MadeChange({ earlier, later }: Props) {
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
      return (
        <p class={found.kind === 'making' ? 'soft' : ''} role="status">
          {WHY_NOT[found.kind]}
        </p>
      )
    }
  },
  <p class="soft">{MAP_CHANGE_WORDS.making}</p>,
)

const noteOf = (earlier: MappedReading, later: MappedReading): string =>
  [
    (earlier.simulated || later.simulated) && PRACTICE_LABEL,
    later.object || earlier.object,
    `${showMoment(earlier.takenAt.iso)} to ${showMoment(later.takenAt.iso)}`,
  ]
    .filter(Boolean)
    .join(', ')

/** The maps of two readings of one view, subtracted in the order in which they were taken. */
export function SubtractedMaps({ one, two }: { one: MappedReading; two: MappedReading }) {
  const inOrder = Date.parse(one.takenAt.iso) <= Date.parse(two.takenAt.iso)
  return inOrder ? <Change earlier={one} later={two} /> : <Change earlier={two} later={one} />
}
