import { Component, type ComponentChildren, type ComponentType } from 'preact'
import { useEffect } from 'preact/hooks'
import { ReadingScreen } from './screens/reading/reading-screen.tsx'
import { RecordingBar } from './screens/recording/recording-bar.tsx'
import { SafetyGate } from './screens/safety/safety-gate.tsx'
import { draftRefused } from './session/draft.ts'
import { runningRecording } from './session/recording/running.ts'
import { applyUpdate, updateReady } from './sources/app-update.ts'
import { CarriedStrip } from './ui/carried-strip.tsx'
import { askedTerm } from './ui/glossary-term.tsx'
import { later, laterScreen } from './ui/later.tsx'
import { Navigation } from './ui/navigation.tsx'
import { type Address, address, addressFromPath, type Place, pathFromAddress } from './ui/router.ts'
import { acceptCautions, cautionsAccepted } from './ui/settings.ts'
import { SpokenWord } from './ui/spoken.tsx'
import { Trouble } from './ui/trouble.tsx'
import { screenTitle } from './ui/words/titles.ts'
import type { WayId } from './ui/words/ways.ts'
import { WorkBar } from './ui/work-bar.tsx'

/** Opened by a tap on a word: its code follows the first screen. */
const Glossary = later<{ onClose: () => void }>(
  async () => (await import('./ui/glossary.tsx')).Glossary,
)

/** Places that are not needed for the first figure come when they are opened. */
const LATER: Partial<Record<Place, ComponentType>> = {
  chart: laterScreen(async () => (await import('./screens/chart/chart-screen.tsx')).ChartScreen),
  log: laterScreen(async () => (await import('./screens/log/log-screen.tsx')).LogScreen),
  safety: laterScreen(
    async () => (await import('./screens/safety/safety-screen.tsx')).SafetyScreen,
  ),
  kit: laterScreen(async () => (await import('./screens/kit/kit-screen.tsx')).KitScreen),
}

const WAY_SCREENS: Record<WayId, ComponentType> = {
  live: laterScreen(async () => (await import('./screens/live/live-screen.tsx')).LiveScreen),
  spectrum: laterScreen(
    async () => (await import('./screens/spectrum/spectrum-screen.tsx')).SpectrumScreen,
  ),
  check: laterScreen(async () => (await import('./screens/check/check-screen.tsx')).CheckScreen),
}

/** What stands at an address besides the photo reading and the cautions. */
function screenOf({ place, rest }: Address): ComponentType | undefined {
  if (place === 'log' && rest.split('/')[0] === 'recordings') return RECORDINGS
  if (place !== 'reading') return LATER[place]
  const way = rest.split('/')[0] ?? ''
  return Object.hasOwn(WAY_SCREENS, way) ? WAY_SCREENS[way as WayId] : undefined
}

const RECORDINGS = laterScreen(
  async () => (await import('./screens/recording/recordings-screen.tsx')).RecordingsScreen,
)

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
      <main class="screen">
        <Trouble
          notice={{
            weight: 'stop',
            title: 'Something unexpected went wrong here',
            todo: `What was saved is kept. Try again, reload, or go to another place (${String(error)}).`,
          }}
          again={() => this.setState({ error: null })}
        />
      </main>
    )
  }
}

function UpdateNotice() {
  const ready = updateReady.value
  const refused = draftRefused.value
  if (!ready && !refused) return null
  return (
    <div class="update" role="status">
      <span>
        {ready && 'A new version is ready. '}
        {refused
          ? 'No room to keep your work over a reload: save it now.'
          : 'An open photo is kept; save a sweep first.'}
      </span>
      {ready && (
        <button type="button" onClick={() => void applyUpdate()}>
          Update now
        </button>
      )}
    </div>
  )
}

const closeGlossary = () => {
  askedTerm.value = null
}

export function App() {
  const Screen = screenOf(address.value)
  const Live = WAY_SCREENS.live
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
      {Screen !== undefined && place !== 'log' && place !== 'kit' && <CarriedStrip />}
      <RecordingBar here={Screen === Live} />
      {/* The reading stays alive behind the other places: a look at the chart loses no work. */}
      <div hidden={place !== 'reading' || Screen !== undefined}>
        <ScreenBoundary at={here}>
          <ReadingScreen />
        </ScreenBoundary>
      </div>
      {/* So does the camera while it records. */}
      {(Screen === Live || runningRecording.value) && (
        <div hidden={Screen !== Live}>
          <ScreenBoundary at={here}>
            <Live />
          </ScreenBoundary>
        </div>
      )}
      {Screen && Screen !== Live && (
        <ScreenBoundary key={place} at={here}>
          <Screen />
        </ScreenBoundary>
      )}
      <Navigation />
      <SpokenWord />
      {askedTerm.value && <Glossary onClose={closeGlossary} />}
    </div>
  )
}
