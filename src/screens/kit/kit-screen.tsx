import { useEffect } from 'preact/hooks'
import { resumeCapture } from '../../session/kit/capture-draft.ts'
import { isFixedPointId } from '../../session/kit/subject.ts'
import { useServices } from '../../session/services.ts'
import { address } from '../../ui/router.ts'
import { HeatKinds } from './heat-kinds.tsx'
import { HeatScreen } from './heat-screen.tsx'
import { InfraredScreen } from './infrared-screen.tsx'
import { KitOverview } from './kit-overview.tsx'
import { LampPhotoScreen } from './lamp-photo-screen.tsx'
import { LampScreen } from './lamp-screen.tsx'
import { ReadyScreen } from './ready-screen.tsx'

/** The kit, and behind it the ways to add to it. */
export function KitScreen() {
  const { kit } = useServices()
  useEffect(() => void resumeCapture(kit), [kit])
  const [part = '', id = '', detail = ''] = address.value.rest.split('/')
  if (part === 'infrared') {
    // A device's name may hold a slash.
    return <InfraredScreen device={address.value.rest.slice('infrared/'.length)} />
  }
  if (part === 'ready') return <ReadyScreen part={id} detail={detail} />
  if (part === 'known-heat') {
    return isFixedPointId(id) ? <HeatScreen key={id} id={id} /> : <HeatKinds />
  }
  if (part === 'lamp') return <LampScreen key={id} id={id} />
  if (part === 'lamp-photo') return <LampPhotoScreen />
  return <KitOverview />
}
