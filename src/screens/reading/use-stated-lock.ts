import { effect } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { profileOf } from '../../session/kit/camera-profile.ts'
import { forgetStatedLock, keepStatedLock, statedLock } from '../../session/kit/stated-lock.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import { useSaving } from '../../ui/use-saving.ts'

/** A lock that was stated before any photo named its camera belongs to the first camera that is named. */
export function useStatedLock(model: ReadingModel): void {
  const { kit, now } = useServices()
  const { run } = useSaving()
  useEffect(() => {
    const give = async (device: string) => {
      const stated = await statedLock()
      const photo = model.glow.photo.peek()
      if (!stated || !photo || model.device.peek() !== device) return
      await run(async (log) => {
        await keepStatedLock(log, device, photo.facts, stated, now())
        await forgetStatedLock()
        const choices = model.choices.peek()
        if (photo.channels === 'camera' || choices.balanceState.kind !== 'unknown') return
        const automatic = { kind: 'automatic', colourTemperatureK: null } as const
        const balanceState = stated.kind === 'locked' ? stated.state : automatic
        model.choices.value = { ...choices, balanceState }
      })
    }
    return effect(() => {
      const device = model.device.value
      // Null while the kit is being read.
      if (device === '' || !model.stored.value || model.simulatedTruthK.value !== null) return
      if (!profileOf(device, kit).stored?.data.lock) void give(device)
    })
  }, [model, kit, now])
}
