import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import type { CameraPrediction } from '../../session/kit/camera-prediction.ts'
import { useServices } from '../../session/services.ts'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { STEP_WORDS } from '../../ui/words/ready.ts'
import style from './start.module.css'

/** 900 °C, where the prediction for a camera is said. */
const SHOWN_AT_K = 1173.15

/** The camera used last: what a reading is worth now, and the step that helps most. */
export function CameraCard() {
  const { kit, now } = useServices()
  const prediction = useSignal<CameraPrediction | null>(null)
  const device = useSignal<string | null>(null)
  const ready = kit.state.value === 'read'
  const items = kit.items.value
  useEffect(() => {
    // A first visit has no camera, and loads nothing for one.
    if (!ready || items.length === 0) return
    const stop = new AbortController()
    const work = async () => {
      const [{ devicesOf, profileOf }, { predictionOf }] = await Promise.all([
        import('../../session/kit/camera-profile.ts'),
        import('../../session/kit/stored-prediction.ts'),
      ])
      const [last] = devicesOf(kit)
      device.value = last ?? null
      if (last === undefined) return
      const found = await predictionOf(profileOf(last, kit), now(), stop.signal)
      if (found) prediction.value = found
    }
    void work()
    return () => stop.abort()
  }, [ready, items, kit, now])
  // Storage that is not open yet, or a first visit: nothing is known of a camera.
  if (!ready || items.length === 0 || device.value === null) {
    return (
      <a class="button wide" href="/kit/ready">
        Make a camera ready: far surer readings
      </a>
    )
  }
  const found = prediction.value
  const at = showTemperature(SHOWN_AT_K)
  return (
    <section class={`card ${style.camera}`} aria-busy={found === null}>
      <h2 class={style.name}>{device.value}</h2>
      <p>
        {found === null
          ? 'Working out what it is worth …'
          : found.nowK === null
            ? 'No figure yet.'
            : found.next === null || found.readyK === null
              ? `About ${showPlusMinus(found.nowK)} at ${at}.`
              : `About ${showPlusMinus(found.nowK)} at ${at}; ready: ${showPlusMinus(found.readyK)}.`}
      </p>
      {found?.next && (
        <a class="button wide" href={`/kit/ready/${found.next}`}>
          {STEP_WORDS[found.next].doing}
        </a>
      )}
    </section>
  )
}
