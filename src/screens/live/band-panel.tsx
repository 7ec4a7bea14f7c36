import { type Signal, useSignal } from '@preact/signals'
import { bandIsNarrow, type TargetBand } from '../../estimate/live/live-line.ts'
import { temperatureFromUnit, temperatureInUnit } from '../../physics/units.ts'
import { NumberField } from '../../ui/number-field.tsx'
import { showDifference, temperatureUnit, UNIT_SYMBOLS } from '../../ui/temperature.ts'

/** A target band: below, inside, above, told by sign, tone and vibration. */
export function BandPanel({
  band,
  expandedUncertaintyK,
}: {
  band: Signal<TargetBand | null>
  expandedUncertaintyK: number | null
}) {
  const from = useSignal<number | null>(band.peek()?.fromK ?? null)
  const to = useSignal<number | null>(band.peek()?.toK ?? null)
  const unit = temperatureUnit.value
  const settle = () => {
    const [fromK, toK] = [from.value, to.value]
    band.value = fromK !== null && toK !== null && toK > fromK ? { fromK, toK } : null
  }
  const field = (label: string, which: Signal<number | null>) => (
    <NumberField
      label={`${label}, ${UNIT_SYMBOLS[unit]}`}
      value={which.value === null ? null : Math.round(temperatureInUnit(which.value, unit))}
      min={temperatureInUnit(900, unit)}
      max={temperatureInUnit(3200, unit)}
      onValue={(value) => {
        which.value = value === null ? null : temperatureFromUnit(value, unit)
        settle()
      }}
    />
  )
  const target = band.value
  const narrow =
    target && expandedUncertaintyK !== null && bandIsNarrow(target, expandedUncertaintyK)
  const reversed = from.value !== null && to.value !== null && to.value <= from.value
  return (
    <details>
      <summary>Target band</summary>
      <div class="inside">
        <div class="two-up">
          {field('From', from)}
          {field('To', to)}
        </div>
        {reversed && <p class="failure">“To” must be above “From”.</p>}
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
