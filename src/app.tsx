import type { ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { ReadingScreen } from './screens/reading/reading-screen.tsx'
import { RecordingBar } from './screens/recording/recording-bar.tsx'
import { SafetyGate } from './screens/safety/safety-gate.tsx'
import { SafetyScreen } from './screens/safety/safety-screen.tsx'
import { WAYS } from './screens/ways.ts'
import { runningRecording } from './session/recording/running.ts'
import { applyUpdate, updateReady } from './sources/app-update.ts'
import { Navigation } from './ui/navigation.tsx'
import { type Address, address, type Place } from './ui/router.ts'
import { acceptCautions, cautionsAccepted } from './ui/settings.ts'
import { SpokenWord } from './ui/spoken.tsx'

type Load = () => Promise<ComponentType>

/** Places that are not needed for the first figure come when they are opened. */
const LATER: Partial<Record<Place, Load>> = {
  chart: async () => (await import('./screens/chart/chart-screen.tsx')).ChartScreen,
  log: async () => (await import('./screens/log/log-screen.tsx')).LogScreen,
  kit: async () => (await import('./screens/kit/kit-screen.tsx')).KitScreen,
}

/** What stands at an address besides the photo reading and the cautions. */
function loaderOf({ place, rest }: Address): Load | undefined {
  if (place === 'log' && rest.split('/')[0] === 'recordings') return RECORDINGS
  return place === 'reading' ? WAYS.find(({ id }) => id === rest.split('/')[0])?.load : LATER[place]
}

const RECORDINGS: Load = async () =>
  (await import('./screens/recording/recordings-screen.tsx')).RecordingsScreen
const LIVE = WAYS.find(({ id }) => id === 'live')?.load

function LaterScreen({ load }: { load: Load }) {
  const [screen, setScreen] = useState<{ load: Load; Screen: ComponentType } | null>(null)
  useEffect(() => {
    let wanted = true
    load().then((Screen) => {
      if (wanted) setScreen({ load, Screen })
    })
    return () => {
      wanted = false
    }
  }, [load])
  return screen?.load === load ? <screen.Screen /> : <main class="screen" aria-busy="true" />
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
  const load = loaderOf(address.value)
  const { place } = address.value
  if (cautionsAccepted.value === false) return <SafetyGate onAccept={acceptCautions} />
  return (
    <div class="shell">
      <UpdateNotice />
      <RecordingBar here={LIVE !== undefined && load === LIVE} />
      {/* The reading stays alive behind the other places: a look at the chart loses no work. */}
      <div hidden={place !== 'reading' || load !== undefined}>
        <ReadingScreen />
      </div>
      {place === 'safety' && <SafetyScreen />}
      {/* So does the camera while it records. */}
      {LIVE && (load === LIVE || runningRecording.value) && (
        <div hidden={load !== LIVE}>
          <LaterScreen load={LIVE} />
        </div>
      )}
      {load && load !== LIVE && <LaterScreen load={load} />}
      <Navigation />
      <SpokenWord />
    </div>
  )
}
