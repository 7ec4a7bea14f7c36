import { changeCamera } from '../../session/kit/camera-store.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { CameraNameForm } from '../../ui/camera-name-form.tsx'
import { useSaving } from '../../ui/use-saving.ts'

/** For a file that does not say which camera took it: one that was named before, or a new name. */
export function CameraNameField({ model, onDone }: { model: ReadingModel; onDone: () => void }) {
  const { kit, now } = useServices()
  const { run } = useSaving()
  const named = kit.cameras.value.filter(({ data }) => data.named)
  const choose = (device: string) => {
    onDone()
    void run(async (log) => {
      await changeCamera(log, device, { named: true, usedAt: now().toISOString() }, now())
      model.nameCamera(device)
    })
  }
  return (
    <CameraNameForm
      label={named.length > 0 ? 'Another one' : 'Its name'}
      layout="stack"
      onName={choose}
    >
      <h2>Which camera?</h2>
      <p class="soft">This file does not say.</p>
      {named.map(({ data: { device } }) => (
        <button key={device} type="button" class="primary wide" onClick={() => choose(device)}>
          {device}
        </button>
      ))}
    </CameraNameForm>
  )
}
