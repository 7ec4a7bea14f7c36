import { profileOf } from '../../session/kit/camera-profile.ts'
import { useServices } from '../../session/services.ts'
import { BackHeader } from './back-header.tsx'
import { InfraredTest } from './infrared-test.tsx'
import css from './kit.module.css'

/** The infrared test of one camera, from a reading that it would help most. */
export function InfraredScreen({ device }: { device: string }) {
  const { kit } = useServices()
  const { leakTests = [], lock } = profileOf(device, kit).stored?.data ?? {}
  return (
    <main class={`screen ${css.kit}`}>
      <BackHeader to="/" title="Test for infrared" />
      <p class="soft">
        A glow sends far more infrared than light. What a camera sees of it passes for a higher
        temperature.
      </p>
      <InfraredTest
        device={device}
        tests={leakTests}
        lock={lock?.kind === 'locked' ? lock.state : undefined}
        alone
      />
      <div class="dock">
        <a class="button primary wide" href="/">
          Back to the reading
        </a>
      </div>
    </main>
  )
}
