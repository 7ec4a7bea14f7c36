import { useRef } from 'preact/hooks'
import { cssColour } from '../../colour/screen-gamut.ts'
import type { ChartModel } from '../../session/chart/chart-model.ts'
import { heightOf, ticks } from '../../session/chart/scale.ts'
import { showTemperature, temperatureUnit } from '../../ui/temperature.ts'
import { lookRangeWords } from '../../ui/words/look.ts'
import { BandStrip } from './band.tsx'
import css from './chart.module.css'
import { useScaleHands } from './scale-hands.ts'

/** Pixels of a strip on the smallest screen, for the spacing of its numbers. */
const LEAST_HEIGHT = 280

/** The scale alone, as high as there is room: names would lead the eye. */
export function MatchStrip({ model }: { model: ChartModel }) {
  const box = useRef<HTMLDivElement>(null)
  const hands = useScaleHands(model, box)
  return (
    <div ref={box} class={css.matchStrip} {...hands}>
      <Scale model={model} />
      <BandStrip model={model} />
      <Pointer model={model} />
    </div>
  )
}

const percent = (kelvin: number, span: ChartModel['span']['value']) => heightOf(kelvin, span, 100)

function Scale({ model }: { model: ChartModel }) {
  const span = model.span.value
  return (
    <>
      {ticks(span, temperatureUnit.value, LEAST_HEIGHT, 30).map(({ temperatureK, text }) => (
        <span key={text} class={css.tick} style={{ top: `${percent(temperatureK, span)}%` }}>
          {text}
        </span>
      ))}
    </>
  )
}

function Pointer({ model }: { model: ChartModel }) {
  const y = percent(model.cursorK.value, model.span.value)
  return (
    <div
      class={css.pointer}
      style={{ top: `${Math.min(100, Math.max(0, y))}%` }}
      aria-hidden="true"
    />
  )
}

/** The colour at the pointer, large: what agrees or does not. */
export function StripPatch({ model }: { model: ChartModel }) {
  const { colour, visible } = model.swatchAt(model.cursorK.value)
  return (
    <div class={css.patch} style={{ background: cssColour(colour) }}>
      {!visible && <span>not seen in this light</span>}
    </div>
  )
}

/** Where the pointer stands; for a camera's picture with what its colour leaves open. */
export function StripPlace({ model }: { model: ChartModel }) {
  const kelvin = model.cursorK.value
  const range = model.rangeAt(kelvin)
  return (
    <p class={css.placeLine}>
      <strong>{showTemperature(kelvin)}</strong>
      {range && <span class="small soft">could be {lookRangeWords(range)}</span>}
    </p>
  )
}
