import type { StatusModel } from '../../../session/log/status-model.ts'
import { LogNotices } from '../list/log-notices.tsx'
import css from '../log.module.css'
import { DeletedSection } from './deleted-section.tsx'
import { DemoSection } from './demo-section.tsx'
import { EmptySection } from './empty-section.tsx'
import { ExportPanel } from './export-panel.tsx'
import { LogImportPanel } from './import-panel.tsx'
import { StorageSection } from './storage-section.tsx'

/** How safe the log is, and what keeps it so: files out, files in, what was deleted, a fresh start. */
export function KeepingScreen({ status }: { status: StatusModel }) {
  return (
    <main class={`screen ${css.log}`}>
      <header>
        <a class="button" href="/log">
          Back
        </a>
        <h1>Backup and storage</h1>
      </header>
      <LogNotices status={status} here="keeping" />
      <div class={css.entryColumns}>
        <div class="stack">
          <section class="card stack">
            <h2>Export</h2>
            <ExportPanel ids={null} />
          </section>
          <section class="card stack">
            <h2>Import</h2>
            <LogImportPanel />
          </section>
          <DeletedSection />
        </div>
        <div class="stack">
          <StorageSection status={status} />
          <DemoSection />
          <EmptySection status={status} />
        </div>
      </div>
    </main>
  )
}
