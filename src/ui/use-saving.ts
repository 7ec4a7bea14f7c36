import { type ReadonlySignal, useSignal } from '@preact/signals'
import type { Log } from '../log/schema/types.ts'
import { useServices } from '../session/services.ts'
import { say } from './spoken.tsx'
import { logSentence } from './words/log-errors.ts'

type Work = (log: Log) => Promise<void>

export interface Saving {
  readonly busy: ReadonlySignal<boolean>
  /** One at a time; never rejects. */
  run(work: Work): Promise<void>
}

/** Work that writes into the log, from a button; what goes wrong is told, by default said. */
export function useSaving(tell: (sentence: string) => void = say): Saving {
  const { log } = useServices()
  const busy = useSignal(false)
  return {
    busy,
    async run(work) {
      if (busy.peek()) return
      busy.value = true
      try {
        await work(await log)
      } catch (error) {
        tell(logSentence(error))
      } finally {
        busy.value = false
      }
    },
  }
}

/** The same where what went wrong stays on show until the next try. */
export function useSavingInPlace(): Saving & { readonly failure: ReadonlySignal<string | null> } {
  const failure = useSignal<string | null>(null)
  const { busy, run } = useSaving((sentence) => {
    failure.value = sentence
  })
  return {
    busy,
    failure,
    run(work) {
      failure.value = null
      return run(work)
    },
  }
}
