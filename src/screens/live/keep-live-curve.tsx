import { useSignal } from '@preact/signals'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import { deviceZone, momentOf } from '../../log/moment.ts'
import type { Json } from '../../log/types.ts'
import { say } from '../../ui/spoken.tsx'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'
import { streamCurveId } from './live-curve.ts'
import type { LiveModel } from './live-model-type.ts'

/** Keeps the tone curve of this camera's stream in the kit: next time no sweep is needed. */
export function KeepLiveCurve({ model, curve }: { model: LiveModel; curve: ToneCurve }) {
  const { log, now } = useServices()
  const state = useSignal<'fresh' | 'busy' | 'kept'>('fresh')
  const keep = async () => {
    state.value = 'busy'
    const { camera } = model
    try {
      const opened = await log
      await opened.kit.add({
        kind: 'tone curve',
        name: `Tone curve, ${camera.id}`,
        date: momentOf(now(), deviceZone()),
        cameraId: camera.id,
        simulated: camera.kind === 'practice',
        data: { curve, curveId: streamCurveId(camera) } as unknown as Json,
      })
      state.value = 'kept'
      say('Tone curve kept in the kit.')
    } catch (error) {
      state.value = 'fresh'
      say(logSentence(error))
    }
  }
  return (
    <button type="button" disabled={state.value !== 'fresh'} onClick={() => void keep()}>
      {state.value === 'kept' ? 'Curve kept' : 'Keep this tone curve for live readings'}
    </button>
  )
}
