import { peakWavelengthNm } from '../../estimate/spectrum/apparent-peak.ts'
import { withoutLargest } from '../../estimate/spectrum/budget.ts'
import type { SpectrumTemperature } from '../../estimate/spectrum/temperature.ts'
import type { SpectrumRefusal } from '../../estimate/spectrum/types.ts'
import type { Measured, SpectrumModel } from '../../session/spectrum/model-types.ts'
import { BudgetBars } from '../../ui/budget-bars.tsx'
import { HeatNames } from '../../ui/heat-names.tsx'
import { Notices } from '../../ui/notices.tsx'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { roundInterval, showFigure, showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { STATED_GLOW, spectrumRefusalNotice } from '../../ui/words/no-glow.ts'
import {
  oddsWords,
  peakReason,
  SPECTRUM_ADVICE,
  SPECTRUM_FAILURE,
  SPECTRUM_TERM_WORDS,
  spectrumNotice,
  stretchWords,
} from '../../ui/words/spectrum.ts'
import { windowFaultNotice } from '../../ui/words/window-table.ts'
import { BesideFigure, MoreChecks } from './cross-checks.tsx'
import {
  correctedPlot,
  dividedPlot,
  rawPlot,
  residualsPlot,
  responsePlot,
  wienPlot,
} from './plot-data.ts'
import { PlotPanel } from './plot-panel.tsx'
import style from './result-panel.module.css'

/** What the spectrum says: the figure, why not the peak, what it rests on, pictures. */
export function SpectrumResult({ model }: { model: SpectrumModel }) {
  if (model.failure.value !== null) return <Notices notices={[SPECTRUM_FAILURE]} />
  const front = model.window.outcome.value
  if (!front.ok && model.recording.value && model.inUse.value) {
    return <Notices notices={[windowFaultNotice(front.fault)]} />
  }
  const measured = model.measured.value
  if (!measured) return model.busy.value ? <p class="soft">Fitting …</p> : null
  const { result } = measured
  if (!result.ok) return <Refused model={model} measured={measured} refusal={result} />
  return <Temperature model={model} measured={measured} result={result} />
}

/** No figure: what was seen, and the spectrum to look at. */
function Refused({
  model,
  measured,
  refusal,
}: {
  model: SpectrumModel
  measured: Measured
  refusal: SpectrumRefusal
}) {
  const { recording, response } = measured.input
  return (
    <>
      <div aria-live="polite">
        <Notices
          notices={[
            spectrumRefusalNotice(refusal),
            ...(refusal.findings ?? []).map(spectrumNotice),
          ]}
        />
      </div>
      {refusal.code === 'cannot tell from a lamp' && (
        <button
          type="button"
          class="wide"
          onClick={() => {
            model.statedGlow.value = true
          }}
        >
          {STATED_GLOW}
        </button>
      )}
      <PlotPanel
        of={measured}
        note=""
        makers={{
          corrected: () => dividedPlot(recording, response),
          raw: () => rawPlot(recording, response.range),
          response: () => responsePlot(response, response.range),
        }}
      />
    </>
  )
}

function Temperature({
  model,
  measured,
  result,
}: {
  model: SpectrumModel
  measured: Measured
  result: SpectrumTemperature
}) {
  const { temperatureK, standardUncertaintyK, interval95K, budget, range } = result
  const dominant = budget[0]?.term
  const { recording, response } = measured.input
  return (
    <>
      <section class={`stack ${style.result}`} aria-live="polite">
        <TemperatureFigure
          temperatureK={temperatureK}
          expandedUncertaintyK={2 * standardUncertaintyK}
        />
        <p class="soft">{oddsWords(roundInterval(interval95K))}</p>
        <NotThePeak result={result} />
        <HeatNames temperatureK={temperatureK} />
        {dominant && (
          <p>
            Largest part: {SPECTRUM_TERM_WORDS[dominant]}, without it{' '}
            {showPlusMinus(withoutLargest(budget))}. {SPECTRUM_ADVICE[dominant]}
          </p>
        )}
      </section>
      <BesideFigure
        result={result}
        lamps={[response, ...(measured.input.others ?? [])].map(({ lamp }) => lamp)}
      />
      <Truth model={model} result={result} />
      <Notices notices={result.findings.map(spectrumNotice)} />
      <PlotPanel
        of={measured}
        note={`${showFigure(temperatureK, 2 * standardUncertaintyK)}, ${stretchWords(range)}`}
        makers={{
          corrected: () => correctedPlot(result),
          raw: () => rawPlot(recording, range),
          response: () => responsePlot(response, range),
          residuals: () => residualsPlot(result),
          ...(result.wien ? { wien: () => wienPlot(result) } : {}),
        }}
      />
      <MoreChecks result={result} />
      <details>
        <summary>What the ± is made of</summary>
        <div class="inside">
          <BudgetBars budget={budget} />
          <p class="small soft">
            Contributions with k = 2; their squares add up to {showPlusMinus(standardUncertaintyK)}{' '}
            (GUM, JCGM 100).
          </p>
        </div>
      </details>
    </>
  )
}

/** The temperature that the raw peak seems to say, struck through. */
function NotThePeak({ result }: { result: SpectrumTemperature }) {
  const peak = result.apparentPeak
  if (!peak) return null
  return (
    <p class={style.notThePeak}>
      <del class="figure">
        <span class="unseen">Not </span>
        {showTemperature(peak.temperatureK)}
      </del>{' '}
      <span class="small soft">
        {peakReason(peak.wavelengthNm, peakWavelengthNm(result.temperatureK))}
      </span>
    </p>
  )
}

/** For simulated light only: the true temperature, to hold the reading against. */
function Truth({ model, result }: { model: SpectrumModel; result: SpectrumTemperature }) {
  const truthK = model.truthK.value
  if (truthK === null) return null
  const [low, high] = result.interval95K
  return (
    <p class="card">
      Simulated spectrum. The true temperature is <strong>{showTemperature(truthK)}</strong>:{' '}
      {truthK >= low && truthK <= high ? 'inside' : 'outside'} the stated range.
    </p>
  )
}
