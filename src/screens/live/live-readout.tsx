import { bandPlace, bandPlaceIsLikely, bandPlaceIsSure } from '../../estimate/live/live-line.ts'
import type { LiveModel } from '../../session/live/live-model-type.ts'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { showDifference, showTemperature } from '../../ui/temperature.ts'
import { BAND_WORDS, LIVE_TROUBLES, sinceHoldWords } from '../../ui/words/live.ts'
import css from './live.module.css'

const noise = (spreadK: number) =>
  spreadK < 1 ? `under ${showDifference(1)}` : showDifference(spreadK)

/** The figure, readable at arm's length, and beside it in a few words what weakens it. */
export function LiveReadout({ model }: { model: LiveModel }) {
  const figure = model.figure.value
  const trouble = model.trouble.value
  const band = model.desk.band.value
  const place = figure && band && bandPlace(figure.temperatureK, band)
  const since = model.sinceHold.value
  const truthK = model.held.value ? null : model.camera.truthK()
  return (
    <section class={`${css.liveReadout} stack`} aria-label="Temperature">
      {band && place && figure && (
        <p class={`${css.bandPlace} ${place}`}>
          <span aria-hidden="true">{BAND_WORDS[place].sign}</span> {BAND_WORDS[place].text}
          {!bandPlaceIsSure(figure, band) && (
            <span class="small soft">
              {bandPlaceIsLikely(figure, band) ? ' probably' : ' perhaps'}
            </span>
          )}
        </p>
      )}
      {figure ? (
        <>
          <TemperatureFigure
            temperatureK={figure.temperatureK}
            expandedUncertaintyK={figure.expandedUncertaintyK}
          />
          <p class="small soft figure">
            {noise(2 * figure.statisticalK)} from noise, {showDifference(2 * figure.systematicK)}{' '}
            from camera and surface
            {truthK === null ? '' : ` · true, simulated: ${showTemperature(truthK)}`}
          </p>
        </>
      ) : (
        <p class="temperature figure">
          <span class="value">–</span>
        </p>
      )}
      {since && !model.held.value && <p class="figure">{sinceHoldWords(since)}</p>}
      <p role="status" class={css.liveTrouble}>
        {model.held.value ? 'Held.' : trouble ? LIVE_TROUBLES[trouble] : 'Steady.'}
      </p>
    </section>
  )
}
