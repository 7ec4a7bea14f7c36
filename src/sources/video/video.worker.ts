import { CanvasFrames } from '../live/frame-reader.ts'
import { look } from '../live/look.ts'
import { answerCalls } from '../worker-answers.ts'
import { FrameQueue } from './frame-queue.ts'
import { openVideo } from './open-video.ts'
import { readFrames, type TimedFrame } from './read-frames.ts'
import { stillFile } from './still-file.ts'
import { streamName, type VideoOperations } from './video-operations.ts'

/** Shares of the way are told so often, ms. */
const TELL_MS = 200

/** Pictures of a film that is played. */
let played = new FrameQueue<TimedFrame>()
const byCanvas = new CanvasFrames()

answerCalls<VideoOperations>({
  async facts(file) {
    const video = await openVideo(file)
    video.close()
    return video.facts
  },
  async preview({ file, seconds }) {
    const video = await openVideo(file)
    try {
      return await video.preview(seconds)
    } finally {
      video.close()
    }
  },
  async still({ file, seconds }) {
    const video = await openVideo(file)
    try {
      const frame = await video.frameAt(seconds)
      if (!frame) return null
      const { rotation } = video.facts
      return await stillFile(frame, rotation, streamName(video.facts)).finally(frame.close)
    } finally {
      video.close()
    }
  },
  async stillOf({ picture, facts }) {
    const frame = byCanvas.frame(picture, picture.width, picture.height)
    const file = frame && (await stillFile(frame, 0, streamName(facts)))
    picture.close()
    return file
  },
  async read({ file, ...reading }, progress) {
    const video = await openVideo(file)
    let told = 0
    try {
      return await readFrames(video.frames(), reading, look, (seconds) => {
        const now = performance.now()
        if (now - told < TELL_MS) return
        told = now
        progress(Math.min(1, seconds / Math.max(video.facts.durationSeconds, 1e-3)))
      })
    } finally {
      video.close()
    }
  },
  async readPlayed(reading) {
    played = new FrameQueue()
    return readFrames(played, reading, look)
  },
  async show({ seconds, picture }) {
    const frame = byCanvas.frame(picture, picture.width, picture.height)
    if (frame) await played.put({ seconds, frame: { ...frame, close: () => picture.close() } })
    return null
  },
  async shown() {
    played.end()
    return null
  },
})
