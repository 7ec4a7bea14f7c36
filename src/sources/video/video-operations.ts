import type { EstimateSample } from '../../estimate/recording/estimate-sampler.ts'
import type { Region } from '../../light/image.ts'
import type { FrameLookInput } from '../live/live-operations.ts'

/** What a video is, before it is read. */
export interface VideoFacts {
  /** As the file names it: 'avc', 'hevc', 'vp9', 'av1'. */
  readonly codec: string
  /** As it is shown, turned. */
  readonly width: number
  readonly height: number
  /** Degrees clockwise by which the stored picture is turned. */
  readonly rotation: number
  readonly durationSeconds: number
  /** Mean, 1/s. */
  readonly frameRate: number
  /** Whether single pictures can be decoded; else the film has to be played through. */
  readonly decodable: boolean
  /** Matrix, range, primaries and transfer as the stream says; null where it does not. */
  readonly colour: {
    readonly matrix: string | null
    readonly fullRange: boolean | null
    readonly primaries: string | null
    readonly transfer: string | null
  }
}

/** A film names no camera: its kind of stream stands for one. */
export const streamName = ({
  codec,
  width,
  height,
}: Pick<VideoFacts, 'codec' | 'width' | 'height'>): string => `video ${codec} ${width}x${height}`

/** Why a video is not read. */
export type VideoRefusal =
  | { readonly code: 'no video' }
  | { readonly code: 'codec'; readonly codec: string }
  | { readonly code: 'hdr'; readonly transfer: string }
  | { readonly code: 'broken'; readonly where: string }

export interface VideoReading {
  readonly file: Blob
  /** Null: follows the glow. Else it stands there, in the stored picture before it is turned. */
  readonly region: Region | null
  /** Seconds of the real thing in a second of the film: below 1 for slow motion. */
  readonly captureSeconds: number
  readonly perSecond: number
  readonly settings: FrameLookInput['settings']
  readonly curve: FrameLookInput['curve']
}

/** Why there is no number. */
export type VideoGap = 'clipped' | 'lost' | 'below range'

/** Columns as in a recording; gaps are NaN, with the reason beside. */
export interface VideoCurve {
  readonly ms: number[]
  readonly temperatureK: number[]
  readonly noiseK: number[]
  readonly commonK: number[]
  readonly lnRatio: number[]
  readonly lnRed: number[]
  readonly gap: (VideoGap | null)[]
  /** The light swings from frame to frame: mains against the shutter. */
  readonly flickers: boolean[]
  /** Readings from which on white balance had drifted; -1 for never. */
  readonly driftsFrom: number
  readonly looks: readonly EstimateSample[]
}

/** A film paused at a time, s from its beginning. */
export interface VideoMoment {
  readonly file: Blob
  readonly seconds: number
}

/** A reading whose pictures come one by one, already turned. */
export type PlayedReading = Omit<VideoReading, 'file'>

export type VideoOperations = {
  facts: readonly [Blob, VideoFacts]
  /** The picture at a time, as it is shown. */
  preview: readonly [VideoMoment, ImageBitmap | null]
  /** The same as a photo file, with all its codes; null where there is none. */
  still: readonly [VideoMoment, Blob | null]
  stillOf: readonly [{ readonly picture: ImageBitmap; readonly facts: VideoFacts }, Blob | null]
  read: readonly [VideoReading, VideoCurve]
  /** Resolves when every picture was shown and 'shown' was said. */
  readPlayed: readonly [PlayedReading, VideoCurve]
  /** Resolves when it was taken: the next may come. */
  show: readonly [{ readonly seconds: number; readonly picture: ImageBitmap }, null]
  shown: readonly [null, null]
}
