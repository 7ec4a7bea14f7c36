import { useServices } from '../../session/services.ts'
import { LookPicker } from '../../ui/look-picker.tsx'
import { address } from '../../ui/router.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { CautionLines } from './cautions.tsx'
import { DistanceScreen } from './distance-screen.tsx'
import { EmergencyCall, EmergencyCard } from './emergency-card.tsx'
import { FireWatchPanel } from './fire-watch-panel.tsx'
import { JobPanel } from './job-panel.tsx'
import css from './safety.module.css'
import { StatementsScreen } from './statements-screen.tsx'

/** Safe work: before, during, after. */
export function SafetyScreen() {
  const { rest } = address.value
  if (rest === 'distance') return <DistanceScreen />
  if (rest === 'statements') return <StatementsScreen />
  return <SafetyHome />
}

function SafetyHome() {
  const { safety } = useServices()
  return (
    <main class={`screen ${css.home}`}>
      <header>
        <h1>Safety</h1>
        <a class="button" href="/safety/distance">
          How near, how long?
        </a>
      </header>
      {safety.failure.value !== null && (
        <p role="alert" class="failure">
          {logSentence(safety.failure.value)} What is ticked here lasts as long as this page.
        </p>
      )}
      <EmergencyCall />
      <JobPanel />
      <FireWatchPanel />
      <EmergencyCard />
      <LookPicker />
      <section class="stack">
        <h2>Cautions</h2>
        <CautionLines />
      </section>
      <a class="button" href="/safety/statements">
        Every statement, with its source
      </a>
    </main>
  )
}
