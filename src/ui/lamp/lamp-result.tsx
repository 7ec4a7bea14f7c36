import { tungstenTrueUncertainty } from '../../physics/tungsten.ts'
import type { LampOutcome } from '../../session/kit/lamp-model.ts'
import { TemperatureFigure } from '../quantity.tsx'
import { roundTemperature, showTemperature } from '../temperature.ts'
import { LAMP_FIELDS, LAMP_TERM_WORDS, lampRefusalSentence } from '../words/lamps.ts'
import css from './lamp.module.css'

/** Colour temperature and the filament's own, apart; and what the ± is made of. */
export function LampResult({ outcome }: { outcome: LampOutcome }) {
  if ('missing' in outcome) {
    const fields = outcome.missing.map((name) => LAMP_FIELDS[name].replace(/,.*/, '').toLowerCase())
    return (
      <section class="stack" aria-live="polite">
        <p class="soft">Still to come: {fields.join(', ')}.</p>
      </section>
    )
  }
  if (!outcome.ok) {
    return (
      <section class="stack" aria-live="polite">
        <p class="failure">{lampRefusalSentence(outcome, showTemperature)}</p>
      </section>
    )
  }
  const { colourTemperatureK, trueTemperatureK, standardUncertaintyK, contributions } = outcome
  const shown = roundTemperature(colourTemperatureK, 2 * standardUncertaintyK, 'K')
  const largest = Math.max(...contributions.map((entry) => entry.standardUncertainty), 1e-9)
  const seen = contributions.filter((entry) => entry.standardUncertainty > 0.02 * largest)
  return (
    <section class="stack" aria-live="polite">
      <p class={`temperature figure ${css.lamp}`}>
        <span class="value">{shown.value}</span> <span class="plus-minus">± {shown.plusMinus}</span>{' '}
        <span class="unit">K</span>
      </p>
      <p class="small soft">
        Colour temperature, what a camera sees. The filament itself is at{' '}
        <TemperatureFigure
          size="line"
          temperatureK={trueTemperatureK}
          expandedUncertaintyK={
            2 * tungstenTrueUncertainty(colourTemperatureK, standardUncertaintyK)
          }
        />
        : bare tungsten looks hotter than it is.
      </p>
      <details>
        <summary>What the ± is made of</summary>
        <div class="inside">
          <ol class="bars">
            {seen.map((entry, index) => (
              <li key={entry.code} class={index === 0 ? 'first' : ''}>
                <span>{LAMP_TERM_WORDS[entry.code]}</span>
                <span class="figure">
                  ± {roundTemperature(0, 2 * entry.standardUncertainty, 'K').plusMinus} K
                </span>
                <div class="track">
                  <div
                    class="fill"
                    style={{ width: `${(100 * entry.standardUncertainty) / largest}%` }}
                  />
                </div>
              </li>
            ))}
          </ol>
        </div>
      </details>
    </section>
  )
}
