import { useSignal } from '@preact/signals'
import { devicesOf } from '../../session/kit/camera-profile.ts'
import { deviceOfLive, joinLive } from '../../session/live/live-device.ts'
import { useServices } from '../../session/services.ts'
import { CameraNameForm } from '../../ui/camera-name-form.tsx'
import { SelectField } from '../../ui/select-field.tsx'
import { useSaving } from '../../ui/use-saving.ts'

const ANOTHER = '\u0000another'

/** Which camera of the kit this is: browsers do not say it, the person can. */
export function DeviceChoice({ liveId }: { liveId: string }) {
  const { kit, now } = useServices()
  const { run } = useSaving()
  const naming = useSignal(false)
  const device = deviceOfLive(kit, liveId)
  const join = (chosen: string) => run((log) => joinLive(log, kit, liveId, chosen, now()))
  // What the kit holds of this very stream is no camera of its own.
  const devices = devicesOf(kit).filter((one) => one !== liveId)
  return (
    <>
      <SelectField
        label="This camera is"
        of={[
          ['', 'Not said'],
          ...devices.map((one) => [one, one] as const),
          [ANOTHER, 'Another one'],
        ]}
        value={naming.value ? ANOTHER : device}
        onValue={(chosen) => {
          naming.value = chosen === ANOTHER
          if (chosen !== ANOTHER) void join(chosen)
        }}
      />
      {naming.value && (
        <CameraNameForm
          label="Its name"
          layout="row"
          onName={(name) => {
            naming.value = false
            void join(name)
          }}
        />
      )}
    </>
  )
}
