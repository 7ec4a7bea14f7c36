import { useSignal } from '@preact/signals'
import { changeCamera } from '../../session/kit/camera-store.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { TextField } from '../../ui/text-field.tsx'
import { useSaving } from '../../ui/use-saving.ts'

/** For a file that does not say which camera took it: one that was named before, or a new name. */
export function CameraNameField({ model, onDone }: { model: ReadingModel; onDone: () => void }) {
  const { kit, now } = useServices()
  const { run } = useSaving()
  const name = useSignal('')
  const named = kit.cameras.value.filter(({ data }) => data.named)
  const choose = (device: string) => {
    onDone()
    void run(async (log) => {
      await changeCamera(log, device, { named: true, usedAt: now().toISOString() }, now())
      model.nameCamera(device)
    })
  }
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        const text = name.value.trim()
        if (text !== '') choose(text)
      }}
    >
      <h2>Which camera?</h2>
      <p class="soft">This file does not say.</p>
      {named.map(({ data: { device } }) => (
        <button key={device} type="button" class="primary wide" onClick={() => choose(device)}>
          {device}
        </button>
      ))}
      <TextField
        label={named.length > 0 ? 'Another one' : 'Its name'}
        placeholder="Shop phone"
        value={name.value}
        onValue={(typed) => {
          name.value = typed
        }}
      />
      <button type="submit" disabled={name.value.trim() === ''}>
        Use this name
      </button>
    </form>
  )
}
