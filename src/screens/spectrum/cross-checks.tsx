import type { ComponentChildren } from 'preact'
import type { SpectrumTemperature } from '../../estimate/spectrum/temperature.ts'
import { showFigure, showTemperature } from '../../ui/temperature.ts'
import { agreementWords, SPECTRUM_EMPTY, stretchWords } from '../../ui/words/spectrum.ts'

/** Other looks at the same light: ratio, Wien's line, colour, and the fit without a free slope. */
export function CrossChecks({ result }: { result: SpectrumTemperature }) {
  const { ratio, wien, chromaticity, withKnownSlope, range, samples } = result
  const rows: [ComponentChildren, ComponentChildren][] = []
  const figure = (kelvin: number, standardK: number | null) =>
    standardK === null ? showTemperature(kelvin) : showFigure(kelvin, 2 * standardK)
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
  if (chromaticity.kind === 'range too short')
    rows.push(['By colour', SPECTRUM_EMPTY.noChromaticity])
  else {
    const { cctK, fittedCctK, standardUncertaintyK, xy, duv } = chromaticity
    if (cctK !== null) {
      rows.push([
        'Colour temperature, CIE',
        <>
          {figure(cctK, standardUncertaintyK)}
          {fittedCctK !== null &&
            standardUncertaintyK !== null &&
            `, ${agreementWords(cctK - fittedCctK, standardUncertaintyK)}`}
        </>,
      ])
    }
    rows.push(['x, y', `${xy.x.toFixed(4)}, ${xy.y.toFixed(4)}`])
    // Adding 0 takes the sign off a zero.
    if (duv !== null) rows.push(['Duv', (Number(duv.toFixed(4)) + 0).toFixed(4)])
  }
  rows.push(['Used', `${stretchWords(range)}, ${samples} samples`])
  return (
    <details>
      <summary>Cross-checks</summary>
      <div class="inside">
        <dl class="facts even">
          {rows.map(([name, value]) => (
            <>
              <dt>{name}</dt>
              <dd>{value}</dd>
            </>
          ))}
        </dl>
        <p class="small soft">
          Their ± hold noise first of all; the figure above holds every cause. Wien’s line reads a
          little low where wavelength and temperature are large.
        </p>
      </div>
    </details>
  )
}
