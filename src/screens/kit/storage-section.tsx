import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { StorageStatus } from '../../log/types.ts'
import { say } from '../../ui/spoken.tsx'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'
import { Facts } from './entry.tsx'

function size(bytes: number): string {
  if (bytes < 1e6) return `${Math.ceil(bytes / 1e3)} kB`
  return bytes < 1e9 ? `${(bytes / 1e6).toPrecision(3)} MB` : `${(bytes / 1e9).toPrecision(3)} GB`
}

/** How safe everything is that lies on this device. */
export function StorageSection() {
  const { log } = useServices()
  const status = useSignal<StorageStatus | null>(null)
  const failure = useSignal<string | null>(null)
  const look = async () => {
    try {
      status.value = await (await log).status()
    } catch (error) {
      failure.value = logSentence(error)
    }
  }
  useEffect(() => {
    void look()
  }, [log])
  const ask = async () => {
    const granted = await (await log).requestPersistence()
    say(
      granted
        ? 'The browser keeps it until you delete it.'
        : 'The browser did not promise it. Installing the app, or using it more, helps; keep a copy elsewhere.',
    )
    await look()
  }
  if (failure.value) return <p role="alert">{failure.value}</p>
  const found = status.value
  if (!found) return null
  const { persisted, usageBytes, quotaBytes } = found
  return (
    <>
      <Facts
        rows={[
          [
            'On this device',
            persisted === null
              ? 'this browser does not say whether it keeps it'
              : persisted
                ? 'kept until you delete it'
                : 'the browser may clear it when space runs out',
          ],
          ...(usageBytes === null || quotaBytes === null
            ? []
            : [['Used', `${size(usageBytes)} of ${size(quotaBytes)}`] as const]),
        ]}
      />
      {persisted === false && (
        <button type="button" class="wide" onClick={() => void ask()}>
          Ask the browser to keep it
        </button>
      )}
    </>
  )
}
