import { useSignal } from '@preact/signals'
import { uvPrimeFromXy } from '../../colour/chromaticity.ts'
import { cssColour } from '../../colour/screen-gamut.ts'
import type { ChartModel } from '../../session/chart/chart-model.ts'
import { plainNumber } from '../../ui/plain-number.ts'
import { showTemperature } from '../../ui/temperature.ts'
import { VIEW_WORDS } from '../../ui/words/chart.ts'
import { chapmanWords, stirlingWords } from '../../ui/words/heat-names.ts'
import { lookRangeWords } from '../../ui/words/look.ts'
import css from './chart.module.css'

const codes = (values: readonly number[]) =>
  values.map((value) => Math.round(255 * value)).join(', ')

/** The numbers of the place on the scale. */
export function Readout({ model }: { model: ChartModel }) {
  const temperatureK = model.cursorK.value
  const swatch = model.swatchAt(temperatureK)
  const range = model.rangeAt(temperatureK)
  return (
    <section class="stack">
      <div class={css.readout}>
        <span
          class={css.swatch}
          style={{ background: cssColour(swatch.colour) }}
          aria-hidden="true"
        />
        <span class={css.place}>{showTemperature(temperatureK)}</span>
        <span class="soft">
          {swatch.visible ? chapmanWords(temperatureK, temperatureK) : 'not seen in this light'}
        </span>
      </div>
      {range && (
        <p>
          A photo of this colour: <strong class="whole">{lookRangeWords(range)}</strong>, 19 times
          in 20.
        </p>
      )}
      <Numbers model={model} />
    </section>
  )
}

/** Worked out only while they are looked at: the pointer moves many times a second. */
function Numbers({ model }: { model: ChartModel }) {
  const open = useSignal(false)
  return (
    <details
      onToggle={(event) => {
        open.value = event.currentTarget.open
      }}
    >
      <summary>Numbers of this place</summary>
      {open.value && <Table model={model} />}
    </details>
  )
}

function Table({ model }: { model: ChartModel }) {
  const temperatureK = model.cursorK.value
  const swatch = model.swatchAt(temperatureK)
  const p3 = model.swatchAt(temperatureK, 'display-p3')
  const srgb = model.swatchAt(temperatureK, 'srgb')
  const uv = swatch.xy && uvPrimeFromXy(swatch.xy)
  return (
    <div class="inside">
      <dl class="facts">
        <dt>Chapman</dt>
        <dd>{chapmanWords(temperatureK, temperatureK)}</dd>
        <dt>Stirling</dt>
        <dd>{stirlingWords(temperatureK, temperatureK)}</dd>
        {swatch.xy && uv && (
          <>
            <dt>x, y</dt>
            <dd>
              {swatch.xy.x.toFixed(4)}, {swatch.xy.y.toFixed(4)}
            </dd>
            <dt>u′, v′</dt>
            <dd>
              {uv.uPrime.toFixed(4)}, {uv.vPrime.toFixed(4)}
            </dd>
          </>
        )}
        <dt>Display P3</dt>
        <dd>
          {codes(p3.colour.codes)}
          {p3.colour.exact ? '' : ' (brought in)'}
        </dd>
        <dt>sRGB</dt>
        <dd>
          {codes(srgb.colour.codes)}
          {srgb.colour.exact ? '' : ' (brought in)'}
        </dd>
        <dt>Luminance</dt>
        <dd>{plainNumber(swatch.relativeLuminance)} × that of 1000 °C</dd>
      </dl>
      <p class="small soft">
        x, y and luminance are those of the glow; codes 0 to 255 are those of the view “
        {VIEW_WORDS[model.viewKind.value].name}”.
      </p>
    </div>
  )
}
