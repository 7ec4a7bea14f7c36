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
  /** The picture at a time; of several calls the latest counts. */
  preview(file: Blob, seconds: number): Promise<ImageBitmap | null>
  /** The same as a photo file. */
  still(file: Blob, seconds: number): Promise<Blob | null>
  read(reading: VideoReading, onProgress: (share: number) => void): Promise<VideoCurve>
  /** What is under way rejects with an AbortError. */
  close(): void
}

/** By decoders in a worker; where they are missing for a film, a video element plays it. */
/** @param known of the film that an earlier bench has opened; null: its facts are asked first */
export function openVideoBench(known: VideoFacts | null): VideoBench {
  const worker = new Worker(new URL('./video.worker.ts', import.meta.url), { type: 'module' })
  const calls = new WorkerCalls<VideoOperations>(
    worker as WorkerPort,
    (refusal: VideoRefusal) => new VideoRefused(refusal),
  )
  let playing: AbortController | null = null
  const player = () => import('./play-frames.ts')
  let facts = known

  const play = async (
    { file, ...reading }: VideoReading,
    { codec, durationSeconds }: VideoFacts,
    onProgress: (share: number) => void,
  ): Promise<VideoCurve> => {
    const { playFrames } = await player()
    const stop = new AbortController()
    playing = stop
    const curve = calls.call('readPlayed', reading)
    curve.catch((error: unknown) => stop.abort(error))
    await playFrames(
      file,
      codec,
      async (seconds, picture) => {
        await calls.call('show', { seconds, picture }, { transfer: [picture] })
        onProgress(Math.min(1, seconds / Math.max(durationSeconds, 1e-3)))
      },
      stop.signal,
    )
    await calls.call('shown', null)
    return curve
  }

  return {
    async facts(file) {
      const found = await calls.call('facts', file)
      const decodable = found.decodable && hasVideoDecoder()
      // What an element shows it has turned already.
      facts = decodable ? found : { ...found, decodable, rotation: 0 }
      return facts
    },
    async preview(file, seconds) {
      if (!facts || facts.decodable)
        return calls.call('preview', { file, seconds }, { latest: true })
      return (await player()).pictureAt(file, facts.codec, seconds)
    },
    async still(file, seconds) {
      if (!facts || facts.decodable) return calls.call('still', { file, seconds })
      const picture = await (await player()).pictureAt(file, facts.codec, seconds)
      return calls.call('stillOf', { picture, facts }, { transfer: [picture] })
    },
    read: (reading, onProgress) =>
      !facts || facts.decodable
        ? calls.call('read', reading, { onProgress })
        : play(reading, facts, onProgress),
    close() {
      calls.close()
      playing?.abort(new DOMException('The film was put away.', 'AbortError'))
    },
  }
}

/** Whether this browser decodes video frame by frame. */
const hasVideoDecoder = (): boolean => typeof VideoDecoder === 'function'
