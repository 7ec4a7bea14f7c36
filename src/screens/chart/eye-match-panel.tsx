import { useSignal } from '@preact/signals'
import { EYE_METHOD_VERSION, eyeMatch } from '../../estimate/eye-match.ts'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { go } from '../../ui/router.ts'
import { say } from '../../ui/spoken.tsx'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { EYE_CAUTIONS } from '../../ui/words/chart.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'
import type { ChartModel } from './chart-model.ts'

type Step = 'idle' | 'from hotter' | 'from colder' | 'done'

/** Bracket twice, from hotter and from colder: an opinion of its own, never mixed with measured ones. */
export function EyeMatchPanel({ model }: { model: ChartModel }) {
  const { log } = useServices()
  const step = useSignal<Step>('idle')
  const hotterK = useSignal(0)
  const colderK = useSignal(0)
  const object = useSignal('')
  const match = step.value === 'done' ? eyeMatch(hotterK.value, colderK.value) : null

  const save = async () => {
    if (!match) return
    try {
      const opened = await log
      const { id } = await opened.add({
        method: 'by eye',
        object: object.value.trim(),
        material: model.materialId.value,
        result: {
          kind: 'temperature',
          temperatureK: match.temperatureK,
          standardUncertaintyK: match.standardUncertaintyK,
          expandedUncertaintyK: 2 * match.standardUncertaintyK,
          interval95K: [
            match.temperatureK - 2 * match.standardUncertaintyK,
            match.temperatureK + 2 * match.standardUncertaintyK,
          ],
          budget: [
            { term: 'bracket', contributionK: match.bracketUncertaintyK, sharedBy: null },
            { term: 'naming charts', contributionK: match.chartUncertaintyK, sharedBy: 'eye' },
          ],
          methodVersion: EYE_METHOD_VERSION,
        },
        inputs: {
          fromHotterK: hotterK.value,
          fromColderK: colderK.value,
          view: model.viewKind.value,
          room: model.room.value,
        },
      })
      say('Saved as “by eye”.', { label: 'Open', run: () => go('log', id) })
      step.value = 'idle'
    } catch (error) {
      say(logSentence(error))
    }
  }

  return (
    <section class="card stack no-print">
      <h2>Match by eye</h2>
      {step.value === 'idle' && (
        <>
          <ul class="small soft">
            {EYE_CAUTIONS.map((line) => (
              <li key={line}>{line}</li>
            ))}
          </ul>
          <button
            type="button"
            onClick={() => {
              model.cursorK.value = Math.min(model.span.value.highK, model.cursorK.value + 200)
              step.value = 'from hotter'
            }}
          >
            Start a match
          </button>
        </>
      )}
      {step.value === 'from hotter' && (
        <>
          <p>
            1 of 2. Start too hot. Slide down until the chart and the glow agree, then press. Now at{' '}
            <strong>{showTemperature(model.cursorK.value)}</strong>.
          </p>
          <button
            type="button"
            class="primary"
            onClick={() => {
              hotterK.value = model.cursorK.value
              model.cursorK.value = Math.max(model.span.value.lowK, model.cursorK.value - 200)
              step.value = 'from colder'
            }}
          >
            They agree
          </button>
        </>
      )}
      {step.value === 'from colder' && (
        <>
          <p>
            2 of 2. Start too cold. Slide up until they agree, then press. Now at{' '}
            <strong>{showTemperature(model.cursorK.value)}</strong>.
          </p>
          <button
            type="button"
            class="primary"
            onClick={() => {
              colderK.value = model.cursorK.value
              step.value = 'done'
            }}
          >
            They agree
          </button>
        </>
      )}
      {match && (
        <>
          <TemperatureFigure
            temperatureK={match.temperatureK}
            expandedUncertaintyK={2 * match.standardUncertaintyK}
          />
          <p class="small soft">
            By eye, k = 2: bracket {showPlusMinus(match.bracketUncertaintyK)}, spread of the naming
            charts {showPlusMinus(match.chartUncertaintyK)}.
          </p>
          <label class="field">
            <span>Object</span>
            <input
              type="text"
              maxLength={200}
              value={object.value}
              onInput={(event) => {
                object.value = event.currentTarget.value
              }}
            />
          </label>
          <div class="row">
            <button
              type="button"
              class="grow"
              onClick={() => {
                step.value = 'idle'
              }}
            >
              Discard
            </button>
            <button type="button" class="primary grow" onClick={() => void save()}>
              Save as “by eye”
            </button>
          </div>
        </>
      )}
    </section>
  )
}
