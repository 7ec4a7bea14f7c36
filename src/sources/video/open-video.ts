/** A video file by Mediabunny's demuxers and the browser's decoders. Loaded on demand, in a worker. */
import {
  BlobSource,
  Input,
  type InputVideoTrack,
  MATROSKA,
  MP4,
  QTFF,
  type VideoSample,
  VideoSampleSink,
  WEBM,
} from 'mediabunny'
import { CanvasFrames, liveFrame } from '../live/frame-reader.ts'
import type { LiveFrame } from '../live/live-frame.ts'
import type { TimedFrame } from './read-frames.ts'
import type { VideoFacts } from './video-operations.ts'
import { VideoRefused } from './video-refused.ts'

/** Transfer functions of HDR (ITU-R BT.2100), as WebCodecs and H.273 name them. */
const HDR = ['pq', 'smpte2084', 'hlg', 'arib-std-b67', 'smpte428']
/** Packets from which the mean frame rate is taken. */
const RATE_PACKETS = 120

export interface OpenVideo {
  readonly facts: VideoFacts
  frames(): AsyncGenerator<TimedFrame>
  /** The picture that is shown at a time, s from the beginning. */
  preview(seconds: number): Promise<ImageBitmap | null>
  /** The same frame, unturned. It is closed by who reads it. */
  frameAt(seconds: number): Promise<LiveFrame | null>
  close(): void
}

/** @throws VideoRefused */
export async function openVideo(file: Blob): Promise<OpenVideo> {
  const input = new Input({ source: new BlobSource(file), formats: [MP4, QTFF, WEBM, MATROSKA] })
  try {
    return await opened(input)
  } catch (error) {
    input.dispose()
    if (error instanceof VideoRefused) throw error
    throw new VideoRefused({ code: 'broken', where: String(error) })
  }
}

async function opened(input: Input): Promise<OpenVideo> {
  if (!(await input.canRead())) throw new VideoRefused({ code: 'no video' })
  const track = await input.getPrimaryVideoTrack()
  if (!track) throw new VideoRefused({ code: 'no video' })
  const facts = await factsOf(track)
  if (facts.colour.transfer && HDR.includes(facts.colour.transfer))
    throw new VideoRefused({ code: 'hdr', transfer: facts.colour.transfer })
  const sink = new VideoSampleSink(track)
  const begins = await track.getFirstTimestamp()
  const sampleAt = (seconds: number) => sink.getSample(Math.max(seconds, begins))
  return {
    facts,
    async *frames() {
      const byCanvas = new CanvasFrames()
      for await (const sample of sink.samples()) {
        const seconds = sample.timestamp
        try {
          const frame = frameOf(sample, byCanvas, facts.colour)
          if (frame) yield { seconds, frame }
        } finally {
          sample.close()
        }
      }
    },
    async preview(seconds) {
      const sample = await sampleAt(seconds)
      if (!sample) return null
      try {
        const canvas = new OffscreenCanvas(facts.width, facts.height)
        const context = canvas.getContext('2d')
        if (!context) return null
        sample.draw(context, 0, 0, facts.width, facts.height)
        return canvas.transferToImageBitmap()
      } finally {
        sample.close()
      }
    },
    async frameAt(seconds) {
      const sample = await sampleAt(seconds)
      if (!sample) return null
      let frame: LiveFrame | null = null
      try {
        frame = frameOf(sample, new CanvasFrames(), facts.colour)
      } finally {
        if (!frame) sample.close()
      }
      const close = () => {
        frame?.close()
        sample.close()
      }
      return frame && { ...frame, close }
    },
    close: () => input.dispose(),
  }
}

/** @throws VideoRefused where it is of high dynamic range */
function frameOf(
  sample: VideoSample,
  byCanvas: CanvasFrames,
  said: VideoFacts['colour'],
): LiveFrame | null {
  const video = sample.toVideoFrame()
  const transfer = video.colorSpace.transfer as string | null
  if (transfer && HDR.includes(transfer)) {
    video.close()
    throw new VideoRefused({ code: 'hdr', transfer })
  }
  // A format that cannot be read plane by plane (10 bit) goes by way of a canvas.
  const known = video.format !== null && !/P1[02]/.test(video.format)
  // Mediabunny tells the decoder BT.709 where a stream says nothing, and the decoder repeats it.
  const direct = known ? liveFrame(video, 'file', said.matrix) : null
  if (!known) video.close()
  return (
    direct ?? byCanvas.frame(sample.toCanvasImageSource(), sample.codedWidth, sample.codedHeight)
  )
}

async function factsOf(track: InputVideoTrack): Promise<VideoFacts> {
  const [codec, width, height, rotation, durationSeconds, stats, space, decodable] =
    await Promise.all([
      track.getCodec(),
      track.getDisplayWidth(),
      track.getDisplayHeight(),
      track.getRotation(),
      track.computeDuration(),
      track.computePacketStats(RATE_PACKETS),
      track.getColorSpace(),
      track.canDecode(),
    ])
  return {
    codec: codec ?? 'unknown',
    width,
    height,
    rotation,
    durationSeconds,
    frameRate: stats.averagePacketRate,
    decodable,
    colour: {
      matrix: space.matrix ?? null,
      fullRange: space.fullRange ?? null,
      primaries: space.primaries ?? null,
      transfer: space.transfer ?? null,
    },
  }
}
