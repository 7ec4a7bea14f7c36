/**
 * A film by a video element that plays it, for browsers without decoders of single pictures (HTML,
 * requestVideoFrameCallback: https://wicg.github.io/video-rvfc/). It takes as long as the film.
 */
import { VideoRefused } from './video-refused.ts'

/** A picture as it is shown, turned and in sRGB, with its time in the film, s. */
export type TakePicture = (seconds: number, picture: ImageBitmap) => Promise<void>

/** Pictures on their way to be read; with more the film waits. */
const MOST_WAITING = 3

/** @throws VideoRefused */
async function openElement(file: Blob, codec: string): Promise<HTMLVideoElement> {
  const video = document.createElement('video')
  video.muted = true
  video.playsInline = true
  video.preload = 'auto'
  video.src = URL.createObjectURL(file)
  await new Promise<void>((resolve, reject) => {
    video.onloadeddata = () => resolve()
    video.onerror = () => {
      closeElement(video)
      reject(new VideoRefused({ code: 'codec', codec }))
    }
  })
  return video
}

const brokenAt = ({ error }: HTMLVideoElement) =>
  new VideoRefused({ code: 'broken', where: error?.message ?? '' })

function closeElement(video: HTMLVideoElement): void {
  video.onerror = null
  video.pause()
  URL.revokeObjectURL(video.src)
  video.removeAttribute('src')
  video.load()
}

/** Until a film that shows nothing is given up, ms, and between two tries. */
const SHOWN_WITHIN_MS = 10_000
const TRY_EVERY_MS = 100

/**
 * The picture that the element shows. An element with data may have no picture to give for a moment:
 * Chromium, busy, then refuses it with an InvalidStateError.
 *
 * @throws VideoRefused
 */
async function shownPicture(video: HTMLVideoElement): Promise<ImageBitmap> {
  const givenUp = performance.now() + SHOWN_WITHIN_MS
  for (;;) {
    try {
      return await createImageBitmap(video)
    } catch (error) {
      if (performance.now() > givenUp)
        throw new VideoRefused({ code: 'broken', where: String(error) })
      await new Promise((resolve) => setTimeout(resolve, TRY_EVERY_MS))
    }
  }
}

/** The picture at a time, s from the beginning. @throws VideoRefused */
export async function pictureAt(file: Blob, codec: string, seconds: number): Promise<ImageBitmap> {
  const video = await openElement(file, codec)
  try {
    if (seconds > 0) {
      await new Promise<void>((resolve, reject) => {
        video.onseeked = () => resolve()
        video.onerror = () => reject(brokenAt(video))
        video.currentTime = seconds
      })
    }
    return await shownPicture(video)
  } finally {
    closeElement(video)
  }
}

/**
 * Plays a film to its end and hands over each picture that is shown. Where they are not taken as fast
 * the film stops for a while: none is passed over but by the browser itself, or where it has none to
 * give at that moment (a later one would stand at a wrong time).
 *
 * @throws VideoRefused, or the signal's reason
 */
export async function playFrames(
  file: Blob,
  codec: string,
  take: TakePicture,
  signal: AbortSignal,
): Promise<void> {
  const video = await openElement(file, codec)
  try {
    await new Promise<void>((resolve, reject) => {
      let waiting = 0
      let last = -1
      signal.addEventListener('abort', () => reject(signal.reason as Error), { once: true })
      video.onerror = () => reject(brokenAt(video))
      const settled = () => {
        waiting--
        if (video.ended && waiting === 0) resolve()
        else if (video.paused && !video.ended && waiting < MOST_WAITING) video.play().catch(reject)
      }
      video.onended = () => {
        if (waiting === 0) resolve()
      }
      const show = (seconds: number) => {
        if (signal.aborted) return
        next()
        // Without a new picture the same one is told again.
        if (seconds <= last) return
        last = seconds
        waiting++
        if (waiting >= MOST_WAITING) video.pause()
        createImageBitmap(video)
          .then(
            (picture) => take(seconds, picture),
            () => {},
          )
          .then(settled, reject)
      }
      const next = () => {
        if (typeof video.requestVideoFrameCallback === 'function')
          video.requestVideoFrameCallback((_, { mediaTime }) => show(mediaTime))
        else requestAnimationFrame(() => show(video.currentTime))
      }
      next()
      video.play().catch(reject)
    })
  } finally {
    closeElement(video)
  }
}
