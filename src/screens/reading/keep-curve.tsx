import { useSignal } from '@preact/signals'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import type { Json } from '../../log/types.ts'
import { say } from '../../ui/spoken.tsx'
import { logSentence } from '../../ui/words/log-errors.ts'
import { useServices } from '../services.ts'
import { cameraIdOf, curveIdOf, takenAtOf } from './photo-meaning.ts'
import type { ReadingModel } from './reading-model.ts'

/** Keeps the recovered tone curve in the kit: later photos of this camera need only one shot. */
export function KeepCurve({ model, curve }: { model: ReadingModel; curve: ToneCurve }) {
  const { log, now } = useServices()
  const state = useSignal<'fresh' | 'busy' | 'kept'>('fresh')
  const keep = async () => {
    const photo = model.glow.photo.value
    if (!photo) return
    state.value = 'busy'
    try {
      const opened = await log
      await opened.kit.add({
        kind: 'tone curve',
        name: `Tone curve, ${photo.facts.model ?? 'this camera'}`,
        // Of the sweep, not of keeping it: its age is counted from here.
        date: takenAtOf(photo.facts, now()),
        cameraId: cameraIdOf(photo.facts),
        data: { curve, curveId: curveIdOf(photo.facts) } as unknown as Json,
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
      {state.value === 'kept' ? 'Curve kept' : 'Keep this tone curve for one-shot photos'}
    </button>
  )
}
