import type { PixelBox } from '../../light/region.ts'
import type { LiveFrame } from './live-frame.ts'

export type { LiveFrame } from './live-frame.ts'

/** What can be set on a camera, in the names and units of the Media Capture specification. */
export type ControlName =
  | 'exposureMode'
  | 'exposureTime'
  | 'iso'
  | 'whiteBalanceMode'
  | 'colorTemperature'
  | 'focusMode'
  | 'torch'

export type ControlValue = string | number | boolean
export type ControlSettings = Partial<Record<ControlName, ControlValue>>
export type ControlRanges = Partial<
  Record<ControlName, readonly ControlValue[] | { readonly min: number; readonly max: number }>
>

/** Live frames of a glow: a phone's camera or the practice bench. */
export interface LiveCamera {
  readonly kind: 'camera' | 'practice'
  readonly id: string
  /** Shown on the screen; owned by the camera. */
  readonly picture: HTMLVideoElement | HTMLCanvasElement
  size(): { readonly width: number; readonly height: number }
  capabilities(): ControlRanges
  settings(): ControlSettings
  /** One control at a time: an unsupported name would reject the whole call. */
  apply(name: ControlName, value: ControlValue): Promise<void>
  /** Null where frames cannot be had at this moment. */
  frame(): LiveFrame | null
  /** Calls back for each new frame; returns the way to stop. */
  onFrame(listener: () => void): () => void
  /** The stream has ended by itself: taken by another app, unplugged, permission revoked. */
  onEnd(listener: (why: CameraEnd) => void): () => void
  /** The stream gives no pictures for a while (a call), and gives them again. */
  onPause(listener: (paused: boolean) => void): () => void
  /** True temperature, K, of a simulated glow; null of a real one. */
  truthK(): number | null
  /**
   * Compares frame and canvas over a box, once a stream; where they differ, pixels are read by the
   * canvas from then on and the answer is false.
   */
  verify(box: PixelBox): Promise<boolean>
  close(): void
}

/** Why there is no live camera. */
export type LiveRefusal = 'denied' | 'none' | 'busy' | 'not offered' | 'failed'

/** Why a camera gives no pictures, or no more. */
export type CameraEnd = LiveRefusal | 'ended'

export class CameraRefused extends Error {
  readonly reason: LiveRefusal
  constructor(reason: LiveRefusal, cause?: unknown) {
    super(`camera: ${reason}`, { cause })
    this.reason = reason
  }
}

/** Names of Media Capture and Streams, 10.6 (getUserMedia). */
export function refusalOf(error: unknown): LiveRefusal {
  switch ((error as { name?: string } | null)?.name) {
    case 'NotAllowedError':
    case 'SecurityError':
      return 'denied'
    case 'NotFoundError':
    case 'OverconstrainedError':
      return 'none'
    case 'NotReadableError':
    case 'AbortError':
      return 'busy'
    default:
      return 'failed'
  }
}
