import type { Reading } from '../../../log/schema/types.ts'
import { SubtractedMaps } from '../../../ui/heat-map/subtracted-maps.tsx'
import { OpenDetails } from '../../../ui/open-details.tsx'
import { MAP_CHANGE_WORDS } from '../../../ui/words/map-change.ts'

/** Two kept maps of one view, subtracted when it is opened. */
export function PairMaps({ one, two }: { one: Reading; two: Reading }) {
  return (
    <OpenDetails summary={MAP_CHANGE_WORDS.summary}>
      {() => (
        <div class="inside">
          <SubtractedMaps one={one} two={two} />
        </div>
      )}
    </OpenDetails>
  )
}
