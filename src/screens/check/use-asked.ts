import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { Reading } from '../../log/schema/types.ts'
import { askedReading } from '../../session/check/asked-reading.ts'
import { useServices } from '../../session/services.ts'
import { address } from '../../ui/router.ts'
import { sayFailure } from '../../ui/say-failure.ts'

/** The id in "/reading/check/ID"; empty where no reading is asked about. */
export const askedId = () => address.value.rest.split('/')[1] ?? ''

/** The reading that is asked about; null until it is there, and where there is none. */
export function useAsked(): Reading | null {
  const { log } = useServices()
  const id = askedId()
  const asked = useSignal<Reading | null>(null)
  useEffect(() => {
    let gone = false
    log
      .then((opened) => askedReading(opened, id))
      .then((found) => {
        if (!gone) asked.value = found
      })
      .catch(sayFailure)
    return () => {
      gone = true
    }
  }, [log, id, asked])
  return asked.value
}
