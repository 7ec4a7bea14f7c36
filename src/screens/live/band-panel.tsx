import type { Signal } from '@preact/signals'
import { bandIsNarrow, type TargetBand } from '../../estimate/live/live-line.ts'
import { BandFields } from '../../ui/band-fields.tsx'
import { showDifference } from '../../ui/temperature.ts'

/** A target band: below, inside, above, told by sign, tone and vibration. */
export function BandPanel({
  band,
  expandedUncertaintyK,
}: {
  band: Signal<TargetBand | null>
  expandedUncertaintyK: number | null
}) {
  const target = band.value
  const narrow =
    target && expandedUncertaintyK !== null && bandIsNarrow(target, expandedUncertaintyK)
  return (
    <details>
      <summary>Target band</summary>
      <div class="inside">
        <BandFields band={band} />
        {narrow && target && (
          <p class="small">
            The band is {showDifference(target.toK - target.fromK)} wide, less than the ± leaves
            open: “inside” is partly chance. A sweep, a grey card and a known heat narrow the ±.
          </p>
        )}
        <p class="small soft">Sound at the top: low below, middle inside, high above.</p>
      </div>
    </details>
  )
}
