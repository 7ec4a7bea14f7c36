import { keepPart } from '../app-update.ts'
import type { OpenOptions, Photo } from '../photo/photo.ts'
import { openInWorker } from '../photo/photo-client.ts'
import type { WorkerPort } from '../worker-calls.ts'

/**
 * Opens a raw photo (DNG) in a worker of its own; the decoder is fetched at the first use and kept
 * for offline use from then on. The same interface as an ordinary photo, with channels `camera`:
 * linear, black level taken off, not balanced; a 2x2 cell of the sensor is one pixel.
 *
 * @throws PhotoRefused (a rejection), AbortError; see openPhoto
 */
export async function openRaw(blob: Blob, options: OpenOptions = {}): Promise<Photo> {
  const worker = new Worker(new URL('./raw.worker.ts', import.meta.url), { type: 'module' })
  const photo = await openInWorker(worker as WorkerPort, blob, options)
  void keepPart('raw')
  return photo
}
