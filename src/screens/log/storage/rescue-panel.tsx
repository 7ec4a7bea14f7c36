import { useMemo } from 'preact/hooks'
import { rescuedLog } from '../../../session/log/rescued-log.ts'
import { useServices } from '../../../session/services.ts'
import { ExportPanel } from './export-panel.tsx'

/** The log as a file while the browser cannot open its database. */
export function RescuePanel() {
  const { now } = useServices()
  const from = useMemo(() => Promise.resolve(rescuedLog(now)), [now])
  return (
    <section class="card stack" aria-labelledby="rescue">
      <h2 id="rescue">Export it now</h2>
      <p class="small soft">From the second copy: this works while the log cannot be opened.</p>
      <ExportPanel ids={null} from={from} />
    </section>
  )
}
