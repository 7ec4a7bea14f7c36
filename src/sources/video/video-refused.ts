import type { VideoRefusal } from './video-operations.ts'

/** Why a video is not read, as an exception. */
export class VideoRefused extends Error {
  constructor(readonly refusal: VideoRefusal) {
    super(`video: ${refusal.code}`)
  }
}
