import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { ReadingScreen } from './screens/reading/reading-screen.tsx'
import { SafetyGate } from './screens/safety/safety-gate.tsx'
import { SafetyScreen } from './screens/safety/safety-screen.tsx'
import { applyUpdate, updateReady } from './sources/app-update.ts'
import { Navigation } from './ui/navigation.tsx'
import { address, type Place } from './ui/router.ts'
import { acceptCautions, cautionsAccepted } from './ui/settings.ts'
import { SpokenWord } from './ui/spoken.tsx'

/** Places that are not needed for the first figure come when they are opened. */
const LATER: Partial<Record<Place, () => Promise<ComponentType>>> = {
  chart: async () => (await import('./screens/chart/chart-screen.tsx')).ChartScreen,
  log: async () => (await import('./screens/log/log-screen.tsx')).LogScreen,
  kit: async () => (await import('./screens/kit/kit-screen.tsx')).KitScreen,
}

function LaterScreen({ place }: { place: Place }) {
  const [screen, setScreen] = useState<{ place: Place; Screen: ComponentType } | null>(null)
  useEffect(() => {
    let wanted = true
    LATER[place]?.().then((Screen) => {
      if (wanted) setScreen({ place, Screen })
    })
    return () => {
      wanted = false
    }
  }, [place])
  return screen?.place === place ? <screen.Screen /> : <main class="screen" aria-busy="true" />
}

function UpdateNotice() {
  if (!updateReady.value) return null
  return (
    <div class="update" role="status">
      <span>A new version is ready. Work in hand is kept.</span>
      <button type="button" onClick={() => void applyUpdate()}>
        Update now
      </button>
    </div>
  )
}

export function App() {
  const { place } = address.value
  if (cautionsAccepted.value === false) return <SafetyGate onAccept={acceptCautions} />
  return (
    <div class="shell">
      <UpdateNotice />
      {/* The reading stays alive behind the other places: a look at the chart loses no work. */}
      <div hidden={place !== 'reading'}>
        <ReadingScreen />
      </div>
      {place === 'safety' && <SafetyScreen />}
      {LATER[place] && <LaterScreen place={place} />}
      <Navigation />
      <SpokenWord />
    </div>
  )
}
