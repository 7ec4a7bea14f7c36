import { useRef } from 'preact/hooks'
import { cssColour } from '../../colour/screen-gamut.ts'
import type { ChartModel } from '../../session/chart/chart-model.ts'
import { heightOf } from '../../session/chart/scale.ts'
import { CAMERA_COUNTED, HIDDEN_FIGURE } from '../../ui/words/match.ts'
import { BandStrip } from './band.tsx'
import css from './chart.module.css'
import { useScaleHands } from './scale-hands.ts'

/** The colours alone, as high as there is room: names and figures would bias the eye. */
export function MatchStrip({ model }: { model: ChartModel }) {
  const box = useRef<HTMLDivElement>(null)
  const hands = useScaleHands(model, box)
  return (
    <div ref={box} class={css.matchStrip} {...hands}>
      <BandStrip model={model} />
      <Pointer model={model} />
    </div>
  )
}

const percent = (kelvin: number, span: ChartModel['span']['value']) => heightOf(kelvin, span, 100)

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
      <span class="small soft">
        {HIDDEN_FIGURE}
        {range && ` ${CAMERA_COUNTED}`}
      </span>
    </p>
  )
}
