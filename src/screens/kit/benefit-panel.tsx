import { type CaptureModel, SHOWN_AT_K } from '../../session/kit/capture-model.ts'
import { LocusPlot } from '../../ui/locus-plot.tsx'
import { Notices } from '../../ui/notices.tsx'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { adviceSentence } from '../../ui/words/estimate.ts'
import { MISFIT, residualWords } from '../../ui/words/kit.ts'
import css from './kit.module.css'

/** What the open known heat would do to readings of this camera. */
export function BenefitPanel({ capture }: { capture: CaptureModel }) {
  const benefit = capture.benefit.value
  const known = capture.temperature.value
  const estimate = capture.reading.estimate.value
  if (!benefit) {
    return (
      <section class={`stack ${css.benefit}`} aria-live="polite">
        <p class="soft">{capture.working.value ? 'Working out what it is worth …' : ''}</p>
      </section>
    )
  }
  const { before, after, use } = benefit
  const residual = use?.standardisedResidual ?? null
  const { balance, greySource } = capture.reading
  const cardNotStored = balance.value !== null && greySource.value.kind !== 'kept'
  return (
    <section class={`stack ${css.benefit}`} aria-live="polite" aria-busy={capture.working.value}>
      <h2>What it does at {showTemperature(SHOWN_AT_K)}</h2>
      {after ? (
        <p class={`figure ${css.narrows}`}>
          {before && <span>{showPlusMinus(before.standardUncertaintyK)}</span>}
          {before && <span aria-hidden="true">→</span>}
          {before && <span class="unseen">becomes</span>}
          <strong>{showPlusMinus(after.standardUncertaintyK)}</strong>
        </p>
      ) : (
        <p class="soft">Too far from {showTemperature(SHOWN_AT_K)} to help there.</p>
      )}
      {after && cardNotStored && (
        <p>With this same grey card: keep the card too, and choose it in the reading.</p>
      )}
      {use?.status === 'conflicting' && <Notices notices={[MISFIT]} />}
      <LocusPlot view={benefit.view} tools={false} />
      {estimate?.kind === 'temperature' && known.ok && (
        <p class="small soft">
          By what the kit knows so far this photo reads{' '}
          <TemperatureFigure
            size="line"
            temperatureK={estimate.temperatureK}
            expandedUncertaintyK={estimate.expandedUncertaintyK}
          />
          ; it is {showTemperature(known.temperatureK)}.
          {residual !== null &&
            ` Its colour ${residual > -1 && residual < 1 ? '' : 'is '}${residualWords(residual)}.`}
        </p>
      )}
      {after && (
        <p class="small soft">
          {adviceSentence(after.advice, showPlusMinus, showTemperature) ?? ''}
        </p>
      )}
    </section>
  )
}
