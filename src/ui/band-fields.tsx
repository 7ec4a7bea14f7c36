import { type Signal, useSignal } from '@preact/signals'
import type { TargetBand } from '../estimate/live/live-line.ts'
import { temperatureFromUnit, temperatureInUnit } from '../physics/units.ts'
import { NumberField } from './number-field.tsx'
import { temperatureUnit, UNIT_SYMBOLS } from './temperature.ts'

/** Both ends of a target band in the person's unit; the band is null until they are in order. */
export function BandFields({ band }: { band: Signal<TargetBand | null> }) {
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
  const reversed = from.value !== null && to.value !== null && to.value <= from.value
  return (
    <>
      <div class="two-up">
        {field('From', from)}
        {field('To', to)}
      </div>
      {reversed && <p class="failure">“To” must be above “From”.</p>}
    </>
  )
}
