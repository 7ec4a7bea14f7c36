import type { RgbSpace, StoredImage } from '../../light/image.ts'

/** RGBA codes as a JPEG without metadata but its colour space. */
export function encodeRgba(
  rgba: Uint8ClampedArray<ArrayBuffer>,
  width: number,
  height: number,
  space: RgbSpace,
): Promise<Blob> {
  const canvas = new OffscreenCanvas(width, height)
  const context = canvas.getContext('2d', { colorSpace: space, alpha: false })
  context?.putImageData(new ImageData(rgba, width, height, { colorSpace: space }), 0, 0)
  return canvas.convertToBlob({ type: 'image/jpeg', quality: 0.85 })
}

/** Codes 0..1 as a JPEG. */
export function encodeImage({ width, height, space, codes }: StoredImage): Promise<Blob> {
  const rgba = new Uint8ClampedArray(4 * width * height)
  for (let from = 0, to = 0; from < codes.length; from += 3, to += 4) {
    rgba[to] = 255 * codes[from]!
    rgba[to + 1] = 255 * codes[from + 1]!
    rgba[to + 2] = 255 * codes[from + 2]!
    rgba[to + 3] = 255
  }
  return encodeRgba(rgba, width, height, space)
}

/** Marks as a PNG with transparency. */
export function encodeMarks(rgba: Uint8ClampedArray<ArrayBuffer>, width: number, height: number) {
  const canvas = new OffscreenCanvas(width, height)
  canvas.getContext('2d')?.putImageData(new ImageData(rgba, width, height), 0, 0)
  return canvas.convertToBlob({ type: 'image/png' })
}
