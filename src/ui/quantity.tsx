import { roundInterval, roundTemperature, temperatureUnit } from './temperature.ts'

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

/** Half-widths that differ by more than this share are said apart. */
const LOPSIDED = 0.15

/** The 95 % interval in words. */
export function IntervalLine({
  temperatureK,
  interval95K: [low, high],
}: {
  temperatureK: number
  interval95K: readonly [low: number, high: number]
}) {
  const [from, to] = roundInterval([low, high], temperatureUnit.value)
  const below = temperatureK - low
  const above = high - temperatureK
  const lopsided = Math.abs(above - below) > LOPSIDED * (above + below)
  return (
    <p class="soft">
      19 times in 20 between <span class="whole">{from}</span> and <span class="whole">{to}</span>
      {lopsided ? ', not symmetric' : ''}.
    </p>
  )
}
