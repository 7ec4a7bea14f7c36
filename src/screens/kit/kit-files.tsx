import { useSignal } from '@preact/signals'
import type { ImportPreview } from '../../log/schema/import-preview.ts'
import { useServices } from '../../session/services.ts'
import { FileButton } from '../../ui/file-button.tsx'
import { removeItems } from '../../ui/kit-actions.ts'
import { Notices } from '../../ui/notices.tsx'
import { saveFile } from '../../ui/save-file.ts'
import { say } from '../../ui/spoken.tsx'
import type { Notice } from '../../ui/words/estimate.ts'
import { importedWords, previewWords } from '../../ui/words/kit.ts'
import { noticeFromLogError } from '../../ui/words/log-errors.ts'

/** Export and import of the kit. */
export function KitFiles() {
  const { log, kit, now } = useServices()
  const failure = useSignal<Notice | null>(null)
  const preview = useSignal<ImportPreview | null>(null)
  const busy = useSignal(false)
  const items = kit.items.value

  const work = async (job: () => Promise<void>) => {
    busy.value = true
    failure.value = null
    try {
      await job()
    } catch (error) {
      failure.value = noticeFromLogError(error)
    } finally {
      busy.value = false
    }
  }
  const take = () =>
    work(async () => {
      const opened = await log
      const chunks: BlobPart[] = []
      for await (const chunk of opened.export('kit')) chunks.push(chunk as Uint8Array<ArrayBuffer>)
      const day = now().toISOString().slice(0, 10)
      saveFile(new Blob(chunks, { type: 'application/json' }), `glowbook-kit-${day}.json`)
    })
  const look = (file: File) =>
    work(async () => {
      await preview.peek()?.discard()
      preview.value = null
      preview.value = await (await log).readFile(file)
    })
  const importKit = (conflicts: 'mine' | 'theirs') =>
    work(async () => {
      const found = preview.peek()
      if (!found) return
      say(importedWords(await found.merge({ conflicts })))
      preview.value = null
    })
  const leave = () =>
    work(async () => {
      await preview.peek()?.discard()
      preview.value = null
    })
  const empty = () =>
    removeItems(
      log,
      items.map(({ id }) => id),
      'The kit is empty.',
    )

  const found = preview.value
  return (
    <div class="stack">
      {failure.value && <Notices notices={[failure.value]} />}
      {found ? (
        <div class="card stack">
          <p>{previewWords(found)}</p>
          {found.kit.conflicting > 0 ? (
            <>
              <button
                type="button"
                class="primary"
                disabled={busy.value}
                onClick={() => importKit('mine')}
              >
                Bring, keep mine where they differ
              </button>
              <button type="button" disabled={busy.value} onClick={() => importKit('theirs')}>
                Bring, take the file’s
              </button>
            </>
          ) : (
            <button
              type="button"
              class="primary"
              disabled={busy.value}
              onClick={() => importKit('mine')}
            >
              Bring them in
            </button>
          )}
          <button type="button" onClick={leave}>
            Leave it
          </button>
        </div>
      ) : (
        <div class="row">
          <button
            type="button"
            class="grow"
            disabled={busy.value || items.length === 0}
            onClick={take}
          >
            Export the kit (JSON)
          </button>
          <div class="grow">
            <FileButton
              accept="application/json,.json,application/zip,.zip"
              onFiles={([file]) => file && look(file)}
            >
              Import a kit
            </FileButton>
          </div>
        </div>
      )}
      {items.length > 0 && (
        <button type="button" class="danger" onClick={() => void empty()}>
          Empty the kit
        </button>
      )}
    </div>
  )
}
