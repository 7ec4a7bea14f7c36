import { uvPrimeFromXy } from '../../colour/chromaticity.ts'
import { heatSwatch } from '../../colour/heat-swatch.ts'
import { cssColour } from '../../colour/screen-gamut.ts'
import { showTemperature } from '../../ui/temperature.ts'
import { chapmanWords, stirlingWords } from '../../ui/words/heat-names.ts'
import type { ChartModel } from './chart-model.ts'

const codes = (values: readonly number[]) =>
  values.map((value) => Math.round(255 * value)).join(', ')

/** The numbers of the place on the scale. */
export function Readout({ model }: { model: ChartModel }) {
  const temperatureK = model.cursorK.value
  const swatch = model.swatchAt(temperatureK)
  const view = { kind: model.viewKind.value === 'hue' ? 'hue' : 'dark-shop' } as const
  const p3 = heatSwatch(temperatureK, { view, screen: 'display-p3' })
  const srgb = heatSwatch(temperatureK, { view, screen: 'srgb' })
  const uv = swatch.xy && uvPrimeFromXy(swatch.xy)
  return (
    <section class="stack" aria-live="polite">
      <div class="readout">
        <span class="swatch" style={{ background: cssColour(swatch.colour) }} aria-hidden="true" />
        <span class="place">{showTemperature(temperatureK)}</span>
        <span class="soft">
          {swatch.visible ? chapmanWords(temperatureK, temperatureK) : 'not seen in this light'}
        </span>
      </div>
      <details>
        <summary>Numbers of this place</summary>
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
            <dd>{swatch.relativeLuminance.toPrecision(3)} × that of 1000 °C</dd>
          </dl>
          <p class="small soft">
            Codes 0 to 255 of the {view.kind === 'hue' ? 'hue-only' : 'dark-shop'} view.
          </p>
        </div>
      </details>
    </section>
  )
}
