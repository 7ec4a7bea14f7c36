import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import { NOTES, readingDraft } from '../../session/draft.ts'
import type { BatchModel } from '../../session/reading/batch-model.ts'
import { photoToRead } from '../../session/reading/photo-to-read.ts'
import type { ReadingModel } from '../../session/reading/reading-model-type.ts'
import { useServices } from '../../session/services.ts'
import type { PhotoLook } from '../../sources/photo/photo-look.ts'
import { prepareForPhoto } from '../../sources/photo/photo-workers.ts'
import { shareOutcome, takeSharedFiles } from '../../sources/shared-files.ts'
import { go } from '../../ui/router.ts'
import { say } from '../../ui/spoken.tsx'
import { useLayer } from '../../ui/use-layer.ts'
import { NOT_LOADED } from '../../ui/words/not-loaded.ts'
import { SHARE_FAILED, sharedTextsWords } from '../../ui/words/shooting.ts'
import { type OpenPhotoFile, PhotoSources } from './photo-sources.tsx'

/** Photos that were given together and are being looked at. */
interface Sorting {
  readonly done: number
  readonly of: number
  readonly files: readonly File[]
  /** They could be either: the person says which. */
  readonly asked: boolean
}

type Bench = typeof import('./reading-bench.tsx')

const loadBench = (): Promise<Bench> => import('./reading-bench.tsx')

/** What reads a photo comes while the person chooses one; where it does not, opening says so. */
const prepare = () => {
  prepareForPhoto()
  loadBench().then(
    ({ warmUpEstimate }) => warmUpEstimate(),
    () => undefined,
  )
}

/**
 * From a photo of the glow to a dated reading. The first page is light; what decodes, estimates and
 * draws comes with the first photo.
 */
export function ReadingScreen() {
  const services = useServices()
  const bench = useRef<Bench | null>(null)
  const model = useSignal<ReadingModel | null>(null)

  const shareFailed = useSignal(false)
  const sorting = useSignal<Sorting | null>(null)
  const separate = useSignal<BatchModel | null>(null)

  const notLoaded = useSignal(false)

  /** Marks that code did not come, which is then told where a refused photo is. */
  const brought = async <T,>(code: Promise<T>): Promise<T> => {
    try {
      return await code
    } catch (error) {
      sorting.value = null
      notLoaded.value = true
      throw error
    }
  }
  const ready = async (): Promise<ReadingModel> => {
    bench.current ??= await brought(loadBench())
    model.value ??= bench.current.createReadingModel(services.kit)
    return model.value
  }
  /** Counts what was asked to be opened: what is put away must not take a later photo with it. */
  const asked = useRef(0)
  const asks = () => {
    asked.current++
    notLoaded.value = false
  }
  const open: OpenPhotoFile = async (blob, name, truthK) => {
    asks()
    return (await ready()).open(blob, name, truthK)
  }
  /** Several photos at once: a sweep is told from separate readings, and asked about where unsure. */
  const openSeveral = async (files: readonly File[]) => {
    asks()
    sorting.value = { done: 0, of: files.length, files, asked: false }
    const [{ lookAtPhoto }, { sortPhotos }] = await brought(
      Promise.all([
        import('../../sources/photo/photo-look.ts'),
        import('../../session/reading/sort-photos.ts'),
      ]),
    )
    const looks: PhotoLook[] = []
    for (const [i, file] of files.entries()) {
      // What cannot be opened is listed with its reason when the photos are read.
      const look = await lookAtPhoto(file).catch(() => null)
      if (sorting.peek()?.files !== files) return
      if (look) looks.push(look)
      sorting.value = { done: i + 1, of: files.length, files, asked: false }
    }
    const groups = sortPhotos(looks)
    const sweeps = groups.filter(({ kind }) => kind === 'sweep')
    const [sweep] = sweeps
    const [only] = groups
    if (only?.kind === 'pair' && groups.length === 1 && looks.length === files.length) {
      const [photo, raw] = only.photos
      if (photo && raw) return openAsPair(photo.file, raw.file)
    }
    const unsure = groups.some(({ sure }) => !sure) || sweeps.length > 1
    const others = groups.length - sweeps.length
    if (unsure || (sweep && others > 0)) {
      sorting.value = { done: files.length, of: files.length, files, asked: true }
    } else if (sweep) await openAsSweep(files)
    else await openAsBatch(files)
  }
  const openAsSweep = async (files: readonly File[]) => {
    sorting.value = null
    await (await ready()).openSweep(files)
  }
  const openAsPair = async (photo: File, raw: File) => {
    sorting.value = null
    await (await ready()).openPair(photo, raw)
  }
  const openAsBatch = async (files: readonly File[]) => {
    sorting.value = null
    await ready()
    separate.value = bench.current?.createBatchModel(files, services.kit) ?? null
  }
  const closeBatch = () => {
    separate.peek()?.dispose()
    separate.value = null
  }
  /** The photo goes; it comes back at a tap. */
  const putAway = async () => {
    const open = model.peek()
    if (!open || !bench.current) return
    const askedBefore = asked.current
    const bringBack = await bench.current.rememberOpen(open, readingDraft)
    // Another photo may have been opened meanwhile: that one stays.
    if (asked.current !== askedBefore) return
    await open.clear()
    const undo = bringBack && {
      label: 'Undo',
      run: () => void ready().then(bringBack),
    }
    say('Photo put away.', undo ?? undefined)
  }

  /** The same for a photo of an earlier visit that is not open yet, before another one takes its place. */
  const putDraftAway = async () => {
    const photo = await readingDraft.photo()
    if (!photo) return
    const notes = await readingDraft.find(NOTES)
    const bringBack = async (into: ReadingModel) => {
      await readingDraft.storePhoto(photo)
      await into.resume(photo, notes)
    }
    say('Photo put away.', { label: 'Undo', run: () => void ready().then(bringBack) })
  }

  // Once, when the screen appears.
  useEffect(() => {
    const resume = async () => {
      const outcome = shareOutcome(location.search)
      if (outcome?.came === 'failed') shareFailed.value = true
      // Before the files are taken: without it they wait for a reload.
      else if (outcome) await ready()
      // Told once: a reload is no share.
      if (outcome) history.replaceState(null, '', location.pathname)
      if (outcome && outcome.texts > 0) {
        const open = { label: 'Open', run: () => go('reading', 'spectrum') }
        say(sharedTextsWords(outcome.texts), open)
      }
      const shared = outcome ? await takeSharedFiles('photo') : []
      const [first] = shared
      if (first) await putDraftAway()
      if (shared.length > 1) return openSeveral(shared)
      if (first) return open(first, first.name)
      if (photoToRead.peek()) return
      const askedBefore = asked.current
      const [photo, notes] = await Promise.all([readingDraft.photo(), readingDraft.find(NOTES)])
      const into = photo && (await ready())
      // A photo that was opened meanwhile is not replaced by the former one.
      if (into && asked.current === askedBefore) await into.resume(photo, notes)
    }
    void resume()
    const take = photoToRead.subscribe((file) => {
      if (!file) return
      photoToRead.value = null
      void (model.peek()?.glow.photo.peek() ? putAway() : putDraftAway()).then(() =>
        open(file, file.name),
      )
    })
    return () => {
      take()
      model.value?.dispose()
    }
  }, [])

  const current = model.value
  const photoOpen = Boolean(current?.glow.photo.value)
  // The browser's Back puts the picture away; so does Undo bring it back.
  useLayer(photoOpen, () => void putAway())
  useLayer(separate.value !== null, closeBatch)
  useLayer(sorting.value !== null, () => {
    sorting.value = null
  })
  const Reading = bench.current?.ReadingBench
  if (current?.glow.photo.value && Reading) {
    return (
      <Reading
        model={current}
        onPutAway={() => void putAway()}
        onOpen={(file) => {
          void current.clear()
          void open(file, file.name)
        }}
      />
    )
  }
  const batch = separate.value
  const Batch = bench.current?.BatchView
  if (batch && Batch) {
    return <Batch model={batch} onClose={closeBatch} />
  }
  const sorted = sorting.value
  if (sorted) {
    return (
      <main class="screen broad">
        <header>
          <h1>{sorted.of} photos</h1>
          <button
            type="button"
            onClick={() => {
              sorting.value = null
            }}
          >
            Cancel
          </button>
        </header>
        {sorted.asked ? (
          <>
            <p>One glow at several exposures, or separate readings?</p>
            <button
              type="button"
              class="primary wide"
              onClick={() => void openAsSweep(sorted.files)}
            >
              One glow: exposure sweep
            </button>
            <button type="button" class="wide" onClick={() => void openAsBatch(sorted.files)}>
              {sorted.of} separate readings
            </button>
            <a class="button wide" href="/kit/ready">
              Card, salt, sweep: make a camera ready
            </a>
          </>
        ) : (
          <progress aria-label="Looking at the photos" value={sorted.done / sorted.of} />
        )}
      </main>
    )
  }
  return (
    <main class="screen broad">
      <header>
        <h1>How hot is that glow?</h1>
      </header>
      <PhotoSources
        opening={current?.glow.opening.value ?? null}
        refusal={
          bench.current?.photoRefusalNotice(current?.glow.refusal.value) ??
          (notLoaded.value ? NOT_LOADED : shareFailed.value ? SHARE_FAILED : null)
        }
        onAsk={prepare}
        onOpen={open}
        onSeveral={(files) => void openSeveral(files)}
        onCancel={() => current?.glow.cancel()}
      />
    </main>
  )
}
