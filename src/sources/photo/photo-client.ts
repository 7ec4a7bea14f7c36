import { PhotoRefused } from '../files/photo-refusal.ts'
import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { OpenOptions, Photo } from './photo.ts'
import type { PhotoOperations } from './photo-operations.ts'
import { takePhotoWorker } from './photo-workers.ts'

export { PhotoRefused } from '../files/photo-refusal.ts'
export type { OpenOptions, Photo, PhotoNote, RegionPicture } from './photo.ts'

/**
 * Opens a photo in a worker of its own.
 *
 * @throws PhotoRefused (a rejection) with the reason as codes and numbers; an AbortError when the
 *   signal aborts, and then the worker is gone at once
 */
export function openPhoto(blob: Blob, options: OpenOptions = {}): Promise<Photo> {
  return openInWorker(takePhotoWorker() as WorkerPort, blob, options)
}

/** Opens a picture in a worker that answers {@link PhotoOperations}. */
export async function openInWorker(
  worker: WorkerPort,
  blob: Blob,
  { signal, onProgress }: OpenOptions,
): Promise<Photo> {
  const calls = new WorkerCalls<PhotoOperations>(worker, (refusal) => new PhotoRefused(refusal))
  const abort = () => calls.close(signal?.reason)
  signal?.addEventListener('abort', abort, { once: true })
  try {
    signal?.throwIfAborted()
    const opened = await calls.call('open', blob, onProgress ? { onProgress } : {})
    const pictureUrl = URL.createObjectURL(opened.preview)
    const { info } = opened
    let marks: Promise<string | null> | undefined
    let marksUrl: string | null = null
    const makeMarks = async () => {
      const picture = await calls.call('marks', null)
      marksUrl = picture === null ? null : URL.createObjectURL(picture)
      return marksUrl
    }
    return {
      ...info,
      pictureUrl,
      proposal: info.glow.kind === 'found' ? info.glow.region : null,
      marks() {
        marks ??= makeMarks()
        return marks
      },
      measure: (region, curve = null) => calls.call('measure', { region, curve }, { latest: true }),
      cells: (of) => calls.call('cells', of, { latest: true }),
      measureGrey: (region, light) =>
        calls.call('measureGrey', { region, light }, { latest: true }),
      regionPicture: (region) => calls.call('regionPicture', region),
      readStored: (region) => calls.call('readStored', region),
      readLight: (region, curve = null) => calls.call('readLight', { region, curve }),
      lightMap: () => calls.call('lightMap', null),
      close() {
        calls.close()
        URL.revokeObjectURL(pictureUrl)
        if (marksUrl !== null) URL.revokeObjectURL(marksUrl)
      },
    }
  } catch (error) {
    calls.close()
    throw error
  } finally {
    signal?.removeEventListener('abort', abort)
  }
}
