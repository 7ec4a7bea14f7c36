import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { NOTES, readingDraft } from '../../session/draft.ts'
import { useServices } from '../../session/services.ts'
import { shareOutcome, takeSharedFiles } from '../../sources/shared-files.ts'
import { go } from '../../ui/router.ts'
import { say } from '../../ui/spoken.tsx'
import { photoRefusalNotice } from '../../ui/words/photo-refusals.ts'
import { SHARE_FAILED, sharedTextsWords } from '../../ui/words/shooting.ts'
import { type OpenPhotoFile, PhotoSources } from './photo-sources.tsx'
import './reading.css'
import type { ReadingModel } from '../../session/reading/reading-model.ts'

type Bench = typeof import('./reading-bench.tsx')

/**
 * From a photo of the glow to a dated reading. The first page is light; what decodes, estimates and
 * draws comes with the first photo.
 */
export function ReadingScreen() {
  const services = useServices()
  const bench = useRef<Bench | null>(null)
  const model = useSignal<ReadingModel | null>(null)

  const shareFailed = useSignal(false)

  const ready = async (): Promise<ReadingModel> => {
    bench.current ??= await import('./reading-bench.tsx')
    model.value ??= bench.current.createReadingModel(services.kit)
    return model.value
  }
  const open: OpenPhotoFile = async (blob, name, truthK) => (await ready()).open(blob, name, truthK)

  // Once, when the screen appears.
  useEffect(() => {
    const resume = async () => {
      const outcome = shareOutcome(location.search)
      // Told once: a reload is no share.
      if (outcome) history.replaceState(null, '', location.pathname)
      if (outcome?.came === 'failed') shareFailed.value = true
      if (outcome && outcome.texts > 0) {
        const open = { label: 'Open', run: () => go('reading', 'spectrum') }
        say(sharedTextsWords(outcome.texts), open)
      }
      const shared = outcome ? await takeSharedFiles('photo') : []
      const [first] = shared
      // Several at once are a sweep.
      if (shared.length > 1) return (await ready()).openSweep(shared)
      if (first) return open(first, first.name)
      const photo = await readingDraft.photo()
      if (photo) await (await ready()).resume(photo, await readingDraft.find(NOTES))
    }
    void resume()
    return () => model.value?.dispose()
  }, [])

  const current = model.value
  const Reading = bench.current?.ReadingBench
  if (current?.glow.photo.value && Reading) return <Reading model={current} />
  return (
    <main class="screen reading">
      <header>
        <h1>How hot is that glow?</h1>
      </header>
      <PhotoSources
        opening={current?.glow.opening.value ?? null}
        refusal={
          photoRefusalNotice(current?.glow.refusal.value) ??
          (shareFailed.value ? SHARE_FAILED : null)
        }
        onOpen={open}
        onSweep={(files) => void ready().then((it) => it.openSweep(files))}
        onCancel={() => current?.glow.cancel()}
      />
    </main>
  )
}
