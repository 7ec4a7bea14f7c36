import { WorkerCalls, type WorkerPort } from '../worker-calls.ts'
import type {
  VideoCurve,
  VideoFacts,
  VideoOperations,
  VideoReading,
  VideoRefusal,
} from './video-operations.ts'
import { VideoRefused } from './video-refused.ts'

/** Reads a film beside the page. */
export interface VideoBench {
  facts(file: Blob): Promise<VideoFacts>
  preview(file: Blob): Promise<ImageBitmap | null>
  read(reading: VideoReading, onProgress: (share: number) => void): Promise<VideoCurve>
  /** What is under way rejects with an AbortError. */
  close(): void
}

export function openVideoBench(): VideoBench {
  const worker = new Worker(new URL('./video.worker.ts', import.meta.url), { type: 'module' })
  const calls = new WorkerCalls<VideoOperations>(
    worker as WorkerPort,
    (refusal: VideoRefusal) => new VideoRefused(refusal),
  )
  return {
    facts: (file) => calls.call('facts', file),
    preview: (file) => calls.call('preview', file),
    read: (reading, onProgress) => calls.call('read', reading, { onProgress }),
    close: () => calls.close(),
  }
}

/** Whether this browser decodes video frame by frame. */
export const hasVideoDecoder = (): boolean => typeof VideoDecoder === 'function'
