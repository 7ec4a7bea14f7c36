import { useSignal } from '@preact/signals'
import type { VNode } from 'preact'
import { useEffect } from 'preact/hooks'
import type { CameraPrediction } from '../../session/kit/camera-prediction.ts'
import { devicesOf, profileOf } from '../../session/kit/camera-profile.ts'
import { predictionOf } from '../../session/kit/stored-prediction.ts'
import { useServices } from '../../session/services.ts'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { STEP_WORDS } from '../../ui/words/ready.ts'
import style from './start.module.css'

/** 900 °C, where the prediction for a camera is said. */
const SHOWN_AT_K = 1173.15

/** What a reading by the camera used last is worth now, and the step that helps most. */
export function CameraWorth({ without }: { without: VNode }) {
  const { kit, now } = useServices()
  const prediction = useSignal<CameraPrediction | 'failed' | null>(null)
  const items = kit.items.value
  const [device] = devicesOf(kit)
  useEffect(() => {
    if (device === undefined) return
    const stop = new AbortController()
    predictionOf(profileOf(device, kit), now(), stop.signal).then(
      (found) => {
        if (found) prediction.value = found
      },
      () => {
        if (!stop.signal.aborted) prediction.value = 'failed'
      },
    )
    return () => stop.abort()
  }, [device, items, kit, now])
  if (device === undefined) return without
  const worth = prediction.value
  // Where it cannot be worked out the camera stands without its ±.
  const found = worth === 'failed' ? null : worth
  return (
    <section class={`card ${style.camera}`} aria-busy={worth === null}>
      <h2 class={style.name}>{device}</h2>
      {worth === null && <p>Working out what it is worth …</p>}
      {found && <p>{worthWords(found)}</p>}
      {found?.next && (
        <a class="button wide" href={`/kit/ready/${found.next}`}>
          {STEP_WORDS[found.next].doing}
        </a>
      )}
      {found?.next === null && found.second && (
        <a class="button wide" href={`/kit/ready/heat/${found.second.heat}`}>
          Second known heat: {showPlusMinus(found.second.withK)}
        </a>
      )}
    </section>
  )
}

function worthWords({ nowK, readyK, next }: CameraPrediction): string {
  if (nowK === null) return 'No figure yet.'
  const worth = `About ${showPlusMinus(nowK)} at ${showTemperature(SHOWN_AT_K)}`
  return next === null || readyK === null
    ? `${worth}.`
    : `${worth}; ready: ${showPlusMinus(readyK)}.`
}
