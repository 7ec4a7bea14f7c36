import { PhotoRefused } from '../files/photo-refusal.ts'
import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { HeifOperations, HeifPixels } from './heif-operations.ts'

/**
 * Decodes a HEIC photo where the browser cannot. libheif runs in a worker of its own that is ended
 * afterwards: that alone gives its memory back.
 *
 * @throws PhotoRefused
 */
export async function decodeHeif(file: Blob): Promise<HeifPixels> {
  const worker = new Worker(new URL('./heif.worker.ts', import.meta.url), { type: 'module' })
  const calls = new WorkerCalls<HeifOperations>(
    worker as WorkerPort,
    (refusal) => new PhotoRefused(refusal),
  )
  try {
    const found = await calls.call('decode', file)
    if (found === null) throw new PhotoRefused({ code: 'damaged', kind: 'heic' })
    return found
  } catch (error) {
    if (error instanceof PhotoRefused) throw error
    // The worker's script is not there, or the decoder gave up on the file.
    throw new PhotoRefused(
      navigator.onLine ? { code: 'cannot decode', kind: 'heic' } : { code: 'heic decoder missing' },
    )
  } finally {
    calls.close()
  }
}
