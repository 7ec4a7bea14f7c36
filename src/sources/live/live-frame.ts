import type { FramePixels } from '../../light/live/frame-codes.ts'
import type { PixelBox } from '../../light/region.ts'

/** One frame, to be closed. */
export interface LiveFrame {
  readonly width: number
  readonly height: number
  /** Copies a box with even edges. */
  copy(box: PixelBox): Promise<FramePixels>
  close(): void
}
