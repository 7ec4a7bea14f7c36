import { type Signal, useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { currentResult } from '../../../log/schema/reading-schema.ts'
import type { Reading } from '../../../log/schema/types.ts'
import type { EntryModel } from '../../../session/log/entry-model.ts'
import { type RecomputeOffer, recomputeOffer } from '../../../session/log/recompute-model.ts'
import { useServices } from '../../../session/services.ts'
import { sayFailure } from '../../../ui/say-failure.ts'
import { say } from '../../../ui/spoken.tsx'
import {
  AGAIN_WORDS,
  movedWords,
  recomputeReason,
  recomputeSentence,
} from '../../../ui/words/log-entry.ts'
import { ResultLine } from './entry-history.tsx'

/** What computing a reading again would give, followed; null until that is known. */
export function useRecomputeOffer(reading: Reading, anyway: Signal<boolean>) {
  const { kit } = useServices()
  const offer = useSignal<RecomputeOffer | null>(null)
  const references = kit.references.value
  useEffect(() => {
    let wanted = true
    recomputeOffer(reading, references, anyway.value).then((found) => {
      if (wanted) offer.value = found
    })
    return () => {
      wanted = false
    }
  }, [reading, references, anyway.value, offer])
  return offer.value
}

/** In a line, where there is nothing to offer. */
export function againWords(offer: RecomputeOffer | null): string | null {
  return typeof offer === 'string' ? AGAIN_WORDS[offer] : null
}

/**
 * Says when today's method, the surface as it is stated now, or today's known heats give another
 * figure, and keeps it beside the former one.
 */
export function RecomputePanel({
  reading,
  offer,
  onKeep,
}: {
  reading: Reading
  offer: RecomputeOffer | null
  onKeep: EntryModel['keepRecomputed']
}) {
  const chosen = useSignal(false)
  if (offer === null || typeof offer === 'string') return null
  const { asThen, withKit } = offer
  const offered = withKit && (chosen.value || !asThen) ? withKit : asThen
  if (!offered) return null
  return (
    <section class="card stack no-print">
      <h2>Compute again</h2>
      <p>{recomputeSentence(offered.reasons)}</p>
      <ResultLine result={offered.result} />
      <p class="soft">{movedWords(currentResult(reading), offered.result)}</p>
      {asThen && withKit && (
        <label class="choice">
          <input
            type="checkbox"
            checked={chosen.value}
            onChange={(event) => {
              chosen.value = event.currentTarget.checked
            }}
          />
          With the known heats that are in the kit now
        </label>
      )}
      <button
        type="button"
        onClick={() => {
          const { result, inputs, details, reasons } = offered
          onKeep({ result, inputs, details, reason: recomputeReason(reasons) }).then(
            () => say('Kept. The former figure stays with the reading.'),
            sayFailure,
          )
        }}
      >
        Keep this figure
      </button>
    </section>
  )
}
