import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { useServices } from '../../session/services.ts'
import type { CameraWorth } from './camera-worth.tsx'

/** The camera used last. A first visit has none, and loads nothing for one. */
export function CameraCard() {
  const { kit } = useServices()
  const loaded = useSignal<{ readonly Worth: typeof CameraWorth } | null>(null)
  const wanted = kit.state.value === 'read' && kit.items.value.length > 0
  useEffect(() => {
    if (!wanted) return
    void import('./camera-worth.tsx').then(({ CameraWorth: Worth }) => {
      loaded.value = { Worth }
    })
  }, [wanted])
  const make = (
    <a class="button wide" href="/kit/ready">
      Make a camera ready: far surer readings
    </a>
  )
  return wanted && loaded.value ? <loaded.value.Worth without={make} /> : make
}
