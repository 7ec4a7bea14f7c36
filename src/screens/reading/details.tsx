import type { EyeView, TemperatureEstimate } from '../../estimate/types.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import { OPEN } from '../../session/carried-reading.ts'
import { BudgetBars } from '../../ui/budget-bars.tsx'
import { ChromaticityDiagram } from '../../ui/chromaticity-diagram.tsx'
import { HeatNames } from '../../ui/heat-names.tsx'
import { showFigure, showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { adviceSentence, TERM_NAMES } from '../../ui/words/estimate.ts'
import { NearestSwatch } from './nearest-swatch.tsx'

/** The uncertainty as a bar chart of contributions. */
export function BudgetDetails({ estimate }: { estimate: TemperatureEstimate }) {
  return (
    <details>
      <summary>What the ± is made of</summary>
      <div class="inside">
        <BudgetBars budget={estimate.budget} />
        <p class="small soft">
          Contributions with k = 2; their squares add up to{' '}
          {showPlusMinus(estimate.standardUncertaintyK)} (GUM, JCGM 100). The ± at the top is half
          of the 95 % range: the two differ a little where the spread is not normal.
        </p>
        <a class="button" href={`/reading/check/${OPEN}/remaining`}>
          What the next hour of work would bring
        </a>
      </div>
    </details>
  )
}

/** The old names of the heat, and which part of the ± is the largest. */
export function NamesDetails({ estimate }: { estimate: TemperatureEstimate }) {
  const advice = adviceSentence(estimate.advice, showPlusMinus, showTemperature)
  return (
    <details>
      <summary>Heat colour, largest part of the ±</summary>
      <div class="inside">
        <HeatNames temperatureK={estimate.temperatureK} />
        <p>
          Largest part: {TERM_NAMES[estimate.dominant].toLowerCase()}. {advice}
        </p>
      </div>
    </details>
  )
}

/** What an eye-like observer would say of the colour. */
export function ColourDetails({ eye }: { eye: EyeView }) {
  const [uu, , , vv] = eye.covarianceUv
  const [xx, , , yy] = eye.covarianceXy
  const pm = (variance: number) => `± ${(2 * Math.sqrt(Math.max(variance, 0))).toFixed(4)}`
  return (
    <details>
      <summary>Colour (CIE)</summary>
      <div class="inside">
        <dl class="facts">
          <dt>x</dt>
          <dd>
            {eye.x.toFixed(4)} {pm(xx)}
          </dd>
          <dt>y</dt>
          <dd>
            {eye.y.toFixed(4)} {pm(yy)}
          </dd>
          <dt>u′</dt>
          <dd>
            {eye.u.toFixed(4)} {pm(uu)}
          </dd>
          <dt>v′</dt>
          <dd>
            {eye.v.toFixed(4)} {pm(vv)}
          </dd>
          {eye.duv !== null && (
            <>
              <dt>Duv</dt>
              <dd>
                {eye.duv.toFixed(4).replace('-', '−')} ±{' '}
                {(2 * (eye.standardUncertaintyDuv ?? 0)).toFixed(4)}
              </dd>
            </>
          )}
          {eye.cctK !== null && (
            <>
              <dt>Colour temperature, CIE</dt>
              <dd>
                {eye.standardUncertaintyCctK === null
                  ? showTemperature(eye.cctK)
                  : showFigure(eye.cctK, 2 * eye.standardUncertaintyCctK)}
              </dd>
            </>
          )}
          <NearestSwatch eye={eye} />
        </dl>
        <p class="small soft">
          This is what an eye-like observer would say of the picture (correlated colour temperature
          and distance from the Planckian locus). A camera is not an eye: the reading above uses the
          camera’s own locus. ± is k = 2, from noise, grey card and tone curve.
        </p>
        <ChromaticityDiagram eye={eye} />
      </div>
    </details>
  )
}

/** How even the glow is: spread and hottest part. */
export function EvennessDetails({
  measurement,
  extremesK,
}: {
  measurement: PhotoMeasurement
  extremesK: { readonly hottest: number; readonly coolest: number } | null
}) {
  const { parts, lnGreenOverRedSd } = measurement.unevenness
  return (
    <details>
      <summary>How even the glow is</summary>
      <div class="inside">
        {extremesK === null ? (
          <p>Too small to compare its parts.</p>
        ) : lnGreenOverRedSd === 0 ? (
          <p>Even: its {parts} parts differ no more than their noise.</p>
        ) : (
          <dl class="facts">
            <dt>Hottest part</dt>
            <dd>{showTemperature(extremesK.hottest)}</dd>
            <dt>Coolest part</dt>
            <dd>{showTemperature(extremesK.coolest)}</dd>
          </dl>
        )}
        {extremesK !== null && (
          <p class="small soft">
            Parts are compared with each other by the same camera, so their difference is far surer
            than the ± of the reading.
          </p>
        )}
      </div>
    </details>
  )
}
