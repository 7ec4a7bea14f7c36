import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { Reading } from '../../../log/types.ts'
import { say } from '../../../ui/spoken.tsx'
import {
  NOT_RECOMPUTABLE,
  recomputeReason,
  recomputeSentence,
} from '../../../ui/words/log-entry.ts'
import { logSentence } from '../../../ui/words/log-errors.ts'
import { useServices } from '../../services.ts'
import { ResultLine } from './entry-history.tsx'
import type { EntryModel } from './entry-model.ts'
import type { NotRecomputable, Recomputed } from './recompute.ts'

interface Offers {
  readonly asThen: Recomputed
  /** With the known heats that are in the kit now. */
  readonly asNow: Recomputed
  readonly kitDiffers: boolean
}

/** What computing a reading again would give; null until that is known. */
export function useRecomputed(reading: Reading): Offers | NotRecomputable | null {
  const { kit } = useServices()
  const offers = useSignal<Offers | NotRecomputable | null>(null)
  const references = kit.references.value
  useEffect(() => {
    let wanted = true
    // The estimate is not part of the log's own code, and a reading is looked at more often than
    // computed again.
    import('./recompute.ts').then(({ recompute, sameFigure }) => {
      if (!wanted) return
      const asThen = recompute(reading, null)
      // Simulated light has no camera of the kit.
      const asNow = recompute(reading, reading.simulated ? null : references)
      offers.value =
        typeof asThen === 'string' || typeof asNow === 'string'
          ? (asThen as NotRecomputable)
          : { asThen, asNow, kitDiffers: !sameFigure(asThen.result, asNow.result) }
    })
    return () => {
      wanted = false
    }
  }, [reading, references, offers])
  return offers.value
}

const nothingNew = ({ asThen, kitDiffers }: Offers) => !asThen.differs && !kitDiffers

/** In a line, where there is nothing to offer. */
export function againWords(offers: Offers | NotRecomputable): string | null {
  if (typeof offers === 'string') return NOT_RECOMPUTABLE[offers]
  return nothingNew(offers) ? 'Computed again just now: the same figure.' : null
}

/**
 * Says when today's method, the surface as it is stated now, or today's known heats would give another
 * figure, and keeps it beside the former one.
 */
export function RecomputePanel({
  offers,
  onKeep,
}: {
  offers: Offers
  onKeep: EntryModel['keepRecomputed']
}) {
  const withKit = useSignal(false)
  const { asThen, asNow, kitDiffers } = offers
  if (nothingNew(offers)) return null
  const useKit = kitDiffers && (withKit.value || !asThen.differs)
  const offered = useKit ? asNow : asThen
  return (
    <section class="card stack no-print">
      <h2>Compute again</h2>
      <p>{recomputeSentence(offered.reasons)}</p>
      <ResultLine result={offered.result} />
      {kitDiffers && asThen.differs && (
        <label class="choice">
          <input
            type="checkbox"
            checked={withKit.value}
            onChange={(event) => {
              withKit.value = event.currentTarget.checked
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
            (error: unknown) => say(logSentence(error)),
          )
        }}
      >
        Keep this figure
      </button>
    </section>
  )
}
