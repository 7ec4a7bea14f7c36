import type { PairResult } from '../../light/raw-pair/measure-pair.ts'
import type { Photo } from '../photo/photo.ts'
import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type { SweepOperations } from './sweep-operations.ts'

/**
 * What a photo and the raw picture of the same shot say about the camera's tone curve.
 *
 * @param raw is not closed
 * @throws AbortError where one of them is closed meanwhile
 */
export async function measureRawPair(photo: Photo, raw: Photo): Promise<PairResult> {
  const worker = new Worker(new URL('./sweep.worker.ts', import.meta.url), { type: 'module' })
  const calls = new WorkerCalls<SweepOperations>(
    worker as WorkerPort,
    () => new Error('a pair has no refusals of this kind'),
  )
  try {
    const [own, theirs] = await Promise.all([photo.lightMap(), raw.lightMap()])
    const { space, codingSteps: steps } = photo
    const { cameraToXyz, asShotNeutral } = raw
    return await calls.call('pair', {
      photo: own,
      space,
      steps,
      raw: theirs,
      cameraToXyz,
      asShotNeutral,
    })
  } finally {
    calls.close()
  }
}
