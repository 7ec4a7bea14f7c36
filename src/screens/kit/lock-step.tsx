import { useSignal } from '@preact/signals'
import type { ReadyJob } from '../../session/kit/ready-job.ts'
import { LockChoices } from '../../ui/lock-choices.tsx'
import { useSaving } from '../../ui/use-saving.ts'

/** How the camera is locked; where it cannot be, the two ways that are left. */
export function LockStep({ job, onDone }: { job: ReadyJob; onDone: () => void }) {
  const { run } = useSaving()
  const cannot = useSignal(false)
  if (cannot.value) {
    const choose = (way: 'raw' | 'card in picture') =>
      run(async (log) => {
        await job.cannotLock(log, way)
        onDone()
      })
    return (
      <>
        <p>Best without a lock: raw photos. Any camera app that writes DNG will do.</p>
        <button type="button" class="primary wide" onClick={() => void choose('raw')}>
          It takes raw photos (DNG)
        </button>
        <p>
          Else a grey card in every picture, beside the glow, lit by a filament lamp. Where it lies
          is remembered.
        </p>
        <button type="button" class="wide" onClick={() => void choose('card in picture')}>
          Card in every picture
        </button>
        <button
          type="button"
          class="plain wide"
          onClick={() => {
            cannot.value = false
          }}
        >
          It can be locked
        </button>
      </>
    )
  }
  return (
    <LockChoices
      onState={(state) =>
        void run(async (log) => {
          await job.stateLock(log, state)
          onDone()
        })
      }
    >
      <button
        type="button"
        class="wide"
        onClick={() => {
          cannot.value = true
        }}
      >
        It cannot be locked
      </button>
    </LockChoices>
  )
}
