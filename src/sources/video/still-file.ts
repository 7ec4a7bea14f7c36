import { frameCodes } from '../../light/live/frame-codes.ts'
import { type TiffEntry, writeTiffPicture } from '../files/write-tiff.ts'
import type { LiveFrame } from '../live/live-frame.ts'

/** EXIF orientation of a picture that is shown turned clockwise by so many degrees (TIFF 6.0, 274). */
const ORIENTATIONS: Record<number, number> = { 0: 1, 90: 6, 180: 3, 270: 8 }
const TOP = 65_535

/**
 * A frame as a photo file: 16 bits, so that nothing of its codes is rounded away. It says that its colour
 * was stored at half resolution, because outlines lie by as much.
 *
 * @param rotation degrees clockwise by which the frame is turned to be shown
 * @param camera the kind of stream, which stands for the camera that a film does not name
 */
export async function stillFile(frame: LiveFrame, rotation: number, camera: string): Promise<Blob> {
  const { width, height } = frame
  const [right, bottom] = [width & ~1, height & ~1]
  const { codes } = frameCodes(await frame.copy({ left: 0, top: 0, right, bottom }))
  const samples = Uint16Array.from(codes, (code) => Math.round(TOP * code))
  const more: TiffEntry[] = [
    { tag: 272, type: 'text', values: camera },
    { tag: 274, type: 'short', values: [ORIENTATIONS[rotation] ?? 1] },
    { tag: 530, type: 'short', values: [2, 2] },
  ]
  const file = writeTiffPicture({ width: right, height: bottom, channels: 3, samples, more })
  return new Blob([file], { type: 'image/tiff' })
}
