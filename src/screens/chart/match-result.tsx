import { useSignal } from '@preact/signals'
import { useMemo } from 'preact/hooks'
import type { MatchModel } from '../../session/chart/match-model.ts'
import { useServices } from '../../session/services.ts'
import { OtherEstimates } from '../../ui/other-estimates.tsx'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { go } from '../../ui/router.ts'
import { say } from '../../ui/spoken.tsx'
import { showPlusMinus } from '../../ui/temperature.ts'
import { logSentence } from '../../ui/words/log-errors.ts'

/** The reading by eye, with what it is unsure of, and measured readings of the same object. */
export function MatchResult({ match, onDone }: { match: MatchModel; onDone: () => void }) {
  const { log, now } = useServices()
  const saving = useSignal(false)
  const failure = useSignal<string | null>(null)
  const result = match.result.value
  const at = useMemo(() => now().getTime(), [now])
  if (!result) return null

  const save = async () => {
    const record = match.record()
    if (!record || saving.value) return
    saving.value = true
    failure.value = null
    try {
      const { id } = await (await log).add(record)
      say('Saved as “by eye”.', { label: 'Open', run: () => go('log', id) })
      onDone()
    } catch (error) {
      failure.value = logSentence(error)
    } finally {
      saving.value = false
    }
  }

  return (
    <section class="stack">
      <TemperatureFigure
        temperatureK={result.temperatureK}
        expandedUncertaintyK={2 * result.standardUncertaintyK}
      />
      <dl class="facts">
        <dt>Between your two matches</dt>
        <dd>{showPlusMinus(result.bracketUncertaintyK)}</dd>
        <dt>Naming charts differ</dt>
        <dd>{showPlusMinus(result.chartUncertaintyK)}</dd>
        {result.screenUncertaintyK > 0 && (
          <>
            <dt>This screen’s colours</dt>
            <dd>{showPlusMinus(result.screenUncertaintyK)}</dd>
          </>
        )}
        {result.lookUncertaintyK > 0 && (
          <>
            <dt>What the camera stores</dt>
            <dd>{showPlusMinus(result.lookUncertaintyK)}</dd>
          </>
        )}
      </dl>
      <label class="field">
        <span>Object</span>
        <input
          type="text"
          maxLength={200}
          value={match.object.value}
          onInput={(event) => {
            match.object.value = event.currentTarget.value
          }}
        />
      </label>
      <OtherEstimates
        object={match.object.value}
        aroundMs={at}
        simulated={match.simulated.value}
        which="measured"
      />
      {failure.value && (
        <p role="alert" class="failure">
          {failure.value}
        </p>
      )}
      <div class="row">
        <button type="button" class="grow" onClick={match.again}>
          Match again
        </button>
        <button
          type="button"
          class="primary grow"
          disabled={saving.value}
          onClick={() => void save()}
        >
          {saving.value ? 'Saving …' : 'Save reading'}
        </button>
      </div>
    </section>
  )
}
