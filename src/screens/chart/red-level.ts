import { decodeTransfer } from '../../colour/rgb-spaces.ts'

/** Side of the spot that is looked at, as a share of the picture's smaller side. */
const SPOT = 0.03
const SAMPLES = 8
/** Darker than this a swatch could not be told from black; above, a photo is blown out. */
const RANGE = { least: 0.03, most: 0.95 } as const

type Picture = HTMLImageElement | HTMLVideoElement | HTMLCanvasElement

/** Its own pixels, not those of the screen. */
export function sizeOf(picture: Picture): { readonly width: number; readonly height: number } {
  if (picture instanceof HTMLImageElement)
    return { width: picture.naturalWidth, height: picture.naturalHeight }
  if (picture instanceof HTMLVideoElement)
    return { width: picture.videoWidth, height: picture.videoHeight }
  return { width: picture.width, height: picture.height }
}

/**
 * Linear level of Display P3 red at a spot of a picture: how brightly it is exposed there.
 *
 * @param x, y 0..1 of the picture's own width and height
 * @returns null where the picture cannot be read
 */
export function redLevelAt(picture: Picture, x: number, y: number): number | null {
  const { width, height } = sizeOf(picture)
  const side = Math.max(1, SPOT * Math.min(width, height))
  const canvas = document.createElement('canvas')
  canvas.width = SAMPLES
  canvas.height = SAMPLES
  const context = canvas.getContext('2d', { colorSpace: 'display-p3' })
  if (!context || width === 0) return null
  const [left, top] = [x * width - side / 2, y * height - side / 2]
  context.drawImage(picture, left, top, side, side, 0, 0, SAMPLES, SAMPLES)
  const { data } = context.getImageData(0, 0, SAMPLES, SAMPLES)
  let sum = 0
  for (let i = 0; i < data.length; i += 4) sum += decodeTransfer(data[i]! / 255)
  return Math.min(RANGE.most, Math.max(RANGE.least, sum / (data.length / 4)))
}

/** Where a point of a box lies in the picture that fills it, cut off at the longer side (object-fit). */
export function coveredPoint(
  box: { readonly width: number; readonly height: number },
  picture: { readonly width: number; readonly height: number },
  x: number,
  y: number,
): { x: number; y: number } {
  const scale = Math.max(box.width / picture.width, box.height / picture.height)
  const along = (at: number, shown: number, whole: number) =>
    0.5 + ((at - 0.5) * shown) / (whole * scale)
  return {
    x: along(x, box.width, picture.width),
    y: along(y, box.height, picture.height),
  }
}
