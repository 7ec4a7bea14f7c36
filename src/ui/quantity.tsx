import { roundTemperature, temperatureUnit } from './temperature.ts'

/** The figure of the whole app: a temperature, never without its uncertainty. */
export function TemperatureFigure({
  temperatureK,
  expandedUncertaintyK,
  size = 'large',
}: {
  temperatureK: number
  expandedUncertaintyK: number
  size?: 'large' | 'line'
}) {
  const { value, plusMinus, unit } = roundTemperature(
    temperatureK,
    expandedUncertaintyK,
    temperatureUnit.value,
  )
  if (size === 'line') {
    return (
      <span class="figure">
        {value} ± {plusMinus} {unit}
      </span>
    )
  }
  return (
    <p class="temperature figure">
      <span class="value">{value}</span> <span class="plus-minus">± {plusMinus}</span>{' '}
      <span class="unit">{unit}</span>
    </p>
  )
}
