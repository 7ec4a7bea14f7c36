import { Component, type ComponentChildren, type ComponentType } from 'preact'
import { useEffect, useState } from 'preact/hooks'
import { ReadingScreen } from './screens/reading/reading-screen.tsx'
import { RecordingBar } from './screens/recording/recording-bar.tsx'
import { SafetyGate } from './screens/safety/safety-gate.tsx'
import { runningRecording } from './session/recording/running.ts'
import { applyUpdate, updateReady } from './sources/app-update.ts'
import { CarriedStrip } from './ui/carried-strip.tsx'
import { askedTerm } from './ui/glossary-term.tsx'
import { later } from './ui/later.tsx'
import { Navigation } from './ui/navigation.tsx'
import { Notices } from './ui/notices.tsx'
import { type Address, address, addressFromPath, type Place, pathFromAddress } from './ui/router.ts'
import { acceptCautions, cautionsAccepted } from './ui/settings.ts'
import { SpokenWord } from './ui/spoken.tsx'
import { screenTitle } from './ui/words/titles.ts'
import type { WayId } from './ui/words/ways.ts'
import { WorkBar } from './ui/work-bar.tsx'

type Load = () => Promise<ComponentType>

/** Opened by a tap on a word: its code follows the first screen. */
const Glossary = later(async () => (await import('./ui/glossary.tsx')).Glossary)

/** Places that are not needed for the first figure come when they are opened. */
const LATER: Partial<Record<Place, Load>> = {
  chart: async () => (await import('./screens/chart/chart-screen.tsx')).ChartScreen,
  log: async () => (await import('./screens/log/log-screen.tsx')).LogScreen,
  safety: async () => (await import('./screens/safety/safety-screen.tsx')).SafetyScreen,
  kit: async () => (await import('./screens/kit/kit-screen.tsx')).KitScreen,
}

const WAY_SCREENS: Record<WayId, Load> = {
  live: async () => (await import('./screens/live/live-screen.tsx')).LiveScreen,
  spectrum: async () => (await import('./screens/spectrum/spectrum-screen.tsx')).SpectrumScreen,
  check: async () => (await import('./screens/check/check-screen.tsx')).CheckScreen,
}

/** What stands at an address besides the photo reading and the cautions. */
function loaderOf({ place, rest }: Address): Load | undefined {
  if (place === 'log' && rest.split('/')[0] === 'recordings') return RECORDINGS
  if (place !== 'reading') return LATER[place]
  const way = rest.split('/')[0] ?? ''
  return Object.hasOwn(WAY_SCREENS, way) ? WAY_SCREENS[way as WayId] : undefined
}

const RECORDINGS: Load = async () =>
  (await import('./screens/recording/recordings-screen.tsx')).RecordingsScreen

/**
 * A screen that comes when it is opened. Its file may be gone: after an update in another tab the
 * server has only the new ones, and they belong to a new page.
 */
function LaterScreen({ load }: { load: Load }) {
  const [screen, setScreen] = useState<{ load: Load; Screen: ComponentType | null } | null>(null)
  const [tries, setTries] = useState(0)
  useEffect(() => {
    let wanted = true
    const show = (Screen: ComponentType | null) => {
      if (wanted) setScreen({ load, Screen })
    }
    load().then(show, () => show(null))
    return () => {
      wanted = false
    }
  }, [load, tries])
  if (screen?.load !== load) return <main class="screen" aria-busy="true" />
  if (screen.Screen === null) {
    const again = () => {
      setScreen(null)
      setTries(tries + 1)
    }
    return (
      <Trouble
        title="This part of the app could not be loaded"
        todo="There is no network, or a newer version has taken its place. Work in hand is kept over a reload."
        again={again}
      />
    )
  }
  return <screen.Screen />
}

function Trouble({ title, todo, again }: { title: string; todo: string; again: () => void }) {
  return (
    <main class="screen stack">
      <div role="alert">
        <Notices notices={[{ weight: 'stop', title, todo }]} />
      </div>
      <div class="row">
        <button type="button" class="grow" onClick={again}>
          Try again
        </button>
        <button type="button" class="grow" onClick={() => location.reload()}>
          Reload
        </button>
      </div>
    </main>
  )
}

/** An error in one screen leaves the others usable, and the way to them. */
class ScreenBoundary extends Component<
  { at: string; children: ComponentChildren },
  { error: unknown }
> {
  override state = { error: null as unknown }

  override componentDidCatch(error: unknown): void {
    console.error(error)
    this.setState({ error })
  }

  /** A change of place tries again. */
  override componentDidUpdate(before: { at: string }): void {
    if (before.at !== this.props.at && this.state.error !== null) this.setState({ error: null })
  }

  override render() {
    const { error } = this.state
    if (error === null) return this.props.children
    return (
      <Trouble
        title="Something unexpected went wrong here"
        todo={`What was saved is kept. Try again, reload, or go to another place (${String(error)}).`}
        again={() => this.setState({ error: null })}
      />
    )
  }
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
  const here = pathFromAddress(address.value)
  const { place } = address.value
  useEffect(() => {
    document.title = screenTitle(addressFromPath(here))
  }, [here])
  if (cautionsAccepted.value === false) return <SafetyGate onAccept={acceptCautions} />
  return (
    <div class="shell">
      <UpdateNotice />
      <WorkBar />
      {load !== undefined && place !== 'log' && place !== 'kit' && <CarriedStrip />}
      <RecordingBar here={load === WAY_SCREENS.live} />
      {/* The reading stays alive behind the other places: a look at the chart loses no work. */}
      <div hidden={place !== 'reading' || load !== undefined}>
        <ScreenBoundary at={here}>
          <ReadingScreen />
        </ScreenBoundary>
      </div>
      {/* So does the camera while it records. */}
      {(load === WAY_SCREENS.live || runningRecording.value) && (
        <div hidden={load !== WAY_SCREENS.live}>
          <ScreenBoundary at={here}>
            <LaterScreen load={WAY_SCREENS.live} />
          </ScreenBoundary>
        </div>
      )}
      {load && load !== WAY_SCREENS.live && (
        <ScreenBoundary key={place} at={here}>
          <LaterScreen load={load} />
        </ScreenBoundary>
      )}
      <Navigation />
      <SpokenWord />
      {askedTerm.value && <Glossary />}
    </div>
  )
}
