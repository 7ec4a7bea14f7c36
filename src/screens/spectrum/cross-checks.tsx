import type { ComponentChildren } from 'preact'
import type { SpectrumTemperature } from '../../estimate/spectrum/temperature.ts'
import type { SpectrumLamp } from '../../estimate/spectrum/types.ts'
import { plainNumber } from '../../ui/plain-number.ts'
import { showFigure, showTemperature } from '../../ui/temperature.ts'
import { referenceWords } from '../../ui/words/response-facts.ts'
import {
  agreementWords,
  betweenWords,
  CHECK_WORDS,
  SPECTRUM_EMPTY,
  stretchWords,
} from '../../ui/words/spectrum.ts'
import style from './cross-checks.module.css'

type Row = readonly [name: ComponentChildren, what: ComponentChildren]

const figure = (kelvin: number, standardK: number | null) =>
  standardK === null ? showTemperature(kelvin) : showFigure(kelvin, 2 * standardK)

function Rows({ rows }: { rows: readonly Row[] }) {
  return (
    <dl class={`facts ${style.even}`}>
      {rows.map(([name, what]) => (
        <>
          <dt>{name}</dt>
          <dd>{what}</dd>
        </>
      ))}
    </dl>
  )
}

/** Other looks at the same light, beside the figure: both halves, the colour, each reference. */
export function BesideFigure({
  result,
  lamps,
}: {
  result: SpectrumTemperature
  lamps: readonly SpectrumLamp[]
}) {
  const { halves, chromaticity, byReference, betweenReferencesK } = result
  const rows: Row[] = []
  if (halves) {
    for (const half of [halves.short, halves.long]) {
      rows.push([stretchWords(half), figure(half.temperatureK, half.standardUncertaintyK)])
    }
  }
  if (chromaticity.kind === 'range too short') {
    rows.push([CHECK_WORDS.byColour, CHECK_WORDS.notEnoughSeen])
  } else if (chromaticity.cctK !== null) {
    const { cctK, fittedCctK, standardUncertaintyK } = chromaticity
    rows.push([
      CHECK_WORDS.byColour,
      <>
        {figure(cctK, standardUncertaintyK)}
        {fittedCctK !== null &&
          standardUncertaintyK !== null &&
          `, ${agreementWords(cctK - fittedCctK, standardUncertaintyK)}`}
      </>,
    ])
  }
  if (byReference.length > 1) {
    byReference.forEach((one) => {
      const lamp = lamps[one.reference]
      rows.push([
        lamp ? `${CHECK_WORDS.reference} ${referenceWords(lamp)}` : CHECK_WORDS.reference,
        figure(one.temperatureK, one.standardUncertaintyK),
      ])
    })
    if (betweenReferencesK !== null) {
      rows.push([CHECK_WORDS.between, betweenWords(betweenReferencesK)])
    }
  }
  if (rows.length === 0) return null
  return (
    <section class="card" aria-label={CHECK_WORDS.title}>
      <Rows rows={rows} />
    </section>
  )
}

/** Ratio, Wien's line, the fit without a free slope, and what the figure was made from. */
export function MoreChecks({ result }: { result: SpectrumTemperature }) {
  const { ratio, wien, chromaticity, withKnownSlope, range, samples, shapeSizes } = result
  const rows: Row[] = []
  rows.push([
    ratio ? `Ratio ${ratio.shortNm} / ${ratio.longNm} nm` : 'Ratio',
    ratio ? figure(ratio.ratioTemperatureK, ratio.standardUncertaintyK) : SPECTRUM_EMPTY.noRatio,
  ])
  if (wien?.temperatureK != null) {
    rows.push(['Wien’s line', figure(wien.temperatureK, wien.standardUncertaintyK)])
  }
  rows.push([
    'Slope taken as known',
    figure(withKnownSlope.temperatureK, withKnownSlope.standardUncertaintyK),
  ])
  if (chromaticity.kind === 'chromaticity') {
    const { xy, duv } = chromaticity
    rows.push(['x, y', `${xy.x.toFixed(4)}, ${xy.y.toFixed(4)}`])
    // Adding 0 takes the sign off a zero.
    if (duv !== null) rows.push(['Duv', (Number(duv.toFixed(4)) + 0).toFixed(4)])
  }
  rows.push([CHECK_WORDS.shape, `± ${plainNumber(200 * shapeSizes.smooth)} %`])
  rows.push(['Used', `${stretchWords(range)}, ${samples} samples`])
  return (
    <details>
      <summary>{CHECK_WORDS.more}</summary>
      <div class="inside">
        <Rows rows={rows} />
        <p class="small soft">
          Their ± hold noise first of all; the figure above holds every cause. Wien’s line reads a
          little low where wavelength and temperature are large.
        </p>
      </div>
    </details>
  )
}
