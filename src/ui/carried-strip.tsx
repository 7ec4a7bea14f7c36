import { carriedReading } from '../session/carried-reading.ts'
import style from './carried-strip.module.css'
import { TemperatureFigure } from './quantity.tsx'

/** The reading that goes along to another screen, and the way back to it. */
export function CarriedStrip() {
  const carried = carriedReading.value
  if (!carried) return null
  return (
    <a class={style.strip} href={carried.href}>
      <span class="soft small">Reading</span>
      <TemperatureFigure
        size="line"
        temperatureK={carried.temperatureK}
        expandedUncertaintyK={carried.expandedUncertaintyK}
      />
      {carried.object !== '' && <span class={style.object}>{carried.object}</span>}
      <span class={style.back}>Back to it</span>
    </a>
  )
}
