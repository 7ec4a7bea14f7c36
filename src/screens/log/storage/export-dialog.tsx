import { useEffect, useRef } from 'preact/hooks'
import { readingsWord } from '../../../ui/words/log.ts'
import { ExportPanel } from './export-panel.tsx'

/** A choice of readings as a file. */
export function ExportDialog({ ids, onClose }: { ids: readonly string[]; onClose: () => void }) {
  const dialog = useRef<HTMLDialogElement>(null)
  // What was chosen when it was opened.
  const chosen = useRef(ids).current
  useEffect(() => {
    dialog.current?.showModal()
  }, [])
  return (
    <dialog ref={dialog} aria-label="Export" onClose={onClose}>
      <div class="stack">
        <h2>Export {readingsWord(chosen.length)}</h2>
        <ExportPanel ids={chosen} />
        <button type="button" onClick={() => dialog.current?.close()}>
          Done
        </button>
      </div>
    </dialog>
  )
}
