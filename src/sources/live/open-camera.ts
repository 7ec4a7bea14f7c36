import type { PixelBox } from '../../light/region.ts'
import { CanvasFrames, frameAgrees, liveFrame } from './frame-reader.ts'
import {
  CameraRefused,
  type ControlName,
  type ControlRanges,
  type ControlSettings,
  type LiveCamera,
  type LiveFrame,
  refusalOf,
} from './live-camera.ts'

const WANTED: MediaStreamConstraints = {
  audio: false,
  video: {
    facingMode: { ideal: 'environment' },
    width: { ideal: 1280 },
    height: { ideal: 720 },
    frameRate: { ideal: 30 },
  },
}

const CONTROLS: readonly ControlName[] = [
  'exposureMode',
  'exposureTime',
  'iso',
  'whiteBalanceMode',
  'colorTemperature',
  'focusMode',
  'torch',
]

const only = (from: object): Record<string, unknown> =>
  Object.fromEntries(CONTROLS.filter((name) => name in from).map((n) => [n, from[n as never]]))

/**
 * The rear camera, once the person has allowed it.
 *
 * @throws CameraRefused
 */
export async function openCamera(): Promise<LiveCamera> {
  const devices = navigator.mediaDevices as MediaDevices | undefined
  if (!devices?.getUserMedia) throw new CameraRefused('not offered')
  let stream: MediaStream
  try {
    stream = await devices.getUserMedia(WANTED)
  } catch (error) {
    throw new CameraRefused(refusalOf(error), error)
  }
  const [track] = stream.getVideoTracks()
  if (!track) throw new CameraRefused('none')
  const video = document.createElement('video')
  video.muted = true
  video.playsInline = true
  video.srcObject = stream
  try {
    await video.play()
  } catch (error) {
    for (const each of stream.getTracks()) each.stop()
    throw new CameraRefused('busy', error)
  }
  return cameraOf(track, video)
}

function cameraOf(track: MediaStreamTrack, video: HTMLVideoElement): LiveCamera {
  const canvas = new CanvasFrames()
  let byFrame = typeof VideoFrame !== 'undefined'
  let closed = false

  const direct = (): LiveFrame | null => {
    if (closed || video.readyState < HTMLMediaElement.HAVE_CURRENT_DATA) return null
    return byFrame ? liveFrame(new VideoFrame(video), 'camera') : null
  }
  const byCanvas = () => canvas.frame(video, video.videoWidth, video.videoHeight)

  const verify = async (box: PixelBox): Promise<boolean> => {
    const frame = direct()
    const other = byCanvas()
    try {
      byFrame =
        frame !== null &&
        other !== null &&
        frame.width === other.width &&
        (await frameAgrees(frame, other, box))
    } catch {
      byFrame = false
    } finally {
      frame?.close()
    }
    return byFrame
  }

  return {
    kind: 'camera',
    id: track.label ? `live · ${track.label}` : 'live camera',
    picture: video,
    size: () => ({ width: video.videoWidth, height: video.videoHeight }),
    capabilities: () => only(track.getCapabilities?.() ?? {}) as ControlRanges,
    settings: () => only(track.getSettings()) as ControlSettings,
    apply: (name, value) =>
      track.applyConstraints({ advanced: [{ [name]: value }] as MediaTrackConstraintSet[] }),
    frame: () => direct() ?? (closed ? null : byCanvas()),
    onFrame(listener) {
      let on = true
      let handle = 0
      const next = () => {
        handle = video.requestVideoFrameCallback
          ? video.requestVideoFrameCallback(tell)
          : requestAnimationFrame(tell)
      }
      const tell = () => {
        if (!on) return
        listener()
        next()
      }
      next()
      return () => {
        on = false
        if (video.cancelVideoFrameCallback) video.cancelVideoFrameCallback(handle)
        else cancelAnimationFrame(handle)
      }
    },
    onEnd: (listener) => onTrackEnd(track, listener),
    onPause(listener) {
      // W3C Media Capture, 4.3.1: a track that the source cannot feed is muted.
      const tell = () => listener(track.muted)
      track.addEventListener('mute', tell)
      track.addEventListener('unmute', tell)
      return () => {
        track.removeEventListener('mute', tell)
        track.removeEventListener('unmute', tell)
      }
    },
    truthK: () => null,
    verify,
    close() {
      closed = true
      track.stop()
      video.srcObject = null
    },
  }
}

/** The track has ended, or the permission was taken back, which not every browser ends it for. */
function onTrackEnd(
  track: MediaStreamTrack,
  listener: (why: 'ended' | 'denied') => void,
): () => void {
  let permission: PermissionStatus | null = null
  let on = true
  const onPermission = () => {
    if (on && permission?.state === 'denied') listener('denied')
  }
  const onEnded = () => {
    if (on) listener(permission?.state === 'denied' ? 'denied' : 'ended')
  }
  track.addEventListener('ended', onEnded)
  navigator.permissions
    ?.query({ name: 'camera' as PermissionName })
    .then((status) => {
      permission = status
      if (on) status.addEventListener('change', onPermission)
    })
    // Not every browser knows this name: the track tells what it can.
    .catch(() => undefined)
  return () => {
    on = false
    track.removeEventListener('ended', onEnded)
    permission?.removeEventListener('change', onPermission)
  }
}
