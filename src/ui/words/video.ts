import { VideoRefused } from '../../sources/video/video-refused.ts'
import type { Notice } from './estimate.ts'
import { noticeFromLogError } from './log-errors.ts'

/** Why a film is not read, and what to do. */
export function noticeOfVideoFailure(error: unknown): Notice | null {
  if (error === null || error === undefined) return null
  if ((error as { name?: string }).name === 'AbortError') return null
  if (!(error instanceof VideoRefused)) return noticeFromLogError(error)
  const { refusal } = error
  switch (refusal.code) {
    case 'no video':
      return {
        weight: 'stop',
        title: 'No video in this file',
        todo: 'MP4, MOV and WebM can be opened. Choose another file.',
      }
    case 'codec':
      return {
        weight: 'stop',
        title: `This browser does not decode ${refusal.codec.toUpperCase()}`,
        todo: 'H.264, VP8, VP9 and AV1 mostly work. Set the camera to “most compatible” (H.264), or convert the film without changing its colours.',
      }
    case 'hdr':
      return {
        weight: 'stop',
        title: `An HDR film (${refusal.transfer.toUpperCase()}) is not read`,
        todo: 'Its levels are bent by scene and phone. Switch HDR video off in the camera and film again.',
      }
    case 'broken':
      return {
        weight: 'stop',
        title: 'This film cannot be read to its end',
        todo: `It may be cut short or damaged (${refusal.where.slice(0, 120)}). Copy it again, or choose another file.`,
      }
  }
}

export const VIDEO_ADVICE =
  'Best: phone on a stand, white balance and exposure locked, the glow not washed out, HDR off.'

export const SLOW_MOTION =
  'Slow motion: how many times slower it plays than it was taken. 240 pictures a second played at 30: 8.'

export const NO_DECODER: Notice = {
  weight: 'note',
  title: 'This browser decodes no single pictures',
  todo: 'The film is played through instead, at its own speed, and may miss some pictures.',
}

export const EXPOSURE_LOCKED =
  'The course then follows the brightness, which tells a change better than the colour. Only if camera and piece stood still too.'
