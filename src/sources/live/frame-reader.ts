import { evenBox, type FramePixels, frameCodes } from '../../light/live/frame-codes.ts'
import { frameMean } from '../../light/live/frame-mean.ts'
import type { PixelBox } from '../../light/region.ts'
import type { LiveFrame } from './live-frame.ts'

const FORMATS: Record<string, FramePixels['format']> = {
  I420: 'I420',
  NV12: 'NV12',
  RGBA: 'RGBA',
  RGBX: 'RGBA',
  BGRA: 'BGRA',
  BGRX: 'BGRA',
}

/**
 * The matrix of frames that do not say theirs. Cameras deliver BT.601, and browsers paint them so;
 * files are taken by their size, as players do (ITU-R BT.709 is HD).
 */
const UNSAID = {
  camera: () => 'smpte170m',
  file: (height: number) => (height >= 720 ? 'bt709' : 'smpte170m'),
} as const

/**
 * A frame on a VideoFrame; null in a format that is not known here. The VideoFrame is owned.
 *
 * @param said matrix of the stream, null where it says none; left out: as the frame says
 */
export function liveFrame(
  frame: VideoFrame,
  source: keyof typeof UNSAID,
  said: string | null = frame.colorSpace.matrix,
): LiveFrame | null {
  const format = frame.format === null ? undefined : FORMATS[frame.format]
  const { visibleRect, colorSpace } = frame
  if (!format || !visibleRect) {
    frame.close()
    return null
  }
  const colour = {
    matrix: said ?? UNSAID[source](visibleRect.height),
    fullRange: colorSpace.fullRange ?? false,
    ...(colorSpace.primaries ? { primaries: colorSpace.primaries } : {}),
  }
  return {
    width: visibleRect.width,
    height: visibleRect.height,
    async copy({ left, top, right, bottom }) {
      const [width, height] = [right - left, bottom - top]
      const rect = { x: visibleRect.x + left, y: visibleRect.y + top, width, height }
      const bytes = new Uint8Array(frame.allocationSize({ rect }))
      const planes = await frame.copyTo(bytes, { rect })
      return { format, width, height, bytes, planes, colour }
    },
    close: () => frame.close(),
  }
}

/** A frame by way of a canvas: slower, for browsers without frames or with wrong colours in them. */
export class CanvasFrames {
  readonly #canvas = new OffscreenCanvas(2, 2)

  frame(picture: CanvasImageSource, width: number, height: number): LiveFrame | null {
    if (width < 2 || height < 2) return null
    return {
      width,
      height,
      copy: async ({ left, top, right, bottom }) => {
        const [w, h] = [right - left, bottom - top]
        this.#canvas.width = w
        this.#canvas.height = h
        const context = this.#canvas.getContext('2d', { willReadFrequently: true, alpha: false })
        if (!context) throw new Error('no canvas to read frames with')
        context.drawImage(picture, left, top, w, h, 0, 0, w, h)
        const { data } = context.getImageData(0, 0, w, h)
        const planes = [{ offset: 0, stride: 4 * w }]
        const colour = { matrix: 'rgb', fullRange: true }
        return { format: 'RGBA', width: w, height: h, bytes: new Uint8Array(data), planes, colour }
      },
      close: () => undefined,
    }
  }
}

/** Difference of a channel's mean linear light from which on frame and canvas do not agree. */
const AGREE = 0.02

/**
 * Whether frame and canvas give the same light over a box, as devices differ in what they say of
 * their frames' matrix and range.
 */
export async function frameAgrees(
  frame: LiveFrame,
  canvas: LiveFrame,
  box: PixelBox,
): Promise<boolean> {
  const where = evenBox(box, frame.width, frame.height)
  const [a, b] = await Promise.all([frame.copy(where), canvas.copy(where)])
  const [one, other] = [frameMean(frameCodes(a)).linear, frameMean(frameCodes(b)).linear]
  return one.every((v, c) => Math.abs(v - other[c]!) <= AGREE * Math.max(v, 0.1))
}
