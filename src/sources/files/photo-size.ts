import { MAX_MEGAPIXELS, PhotoRefused } from './photo-refusal.ts'

/** Refuses pictures without pixels and those that would fill a phone's memory. */
export function checkSize(width: number, height: number): void {
  if (!(width > 0 && height > 0)) throw new PhotoRefused({ code: 'no pixels', width, height })
  const megapixels = (width * height) / 1e6
  if (megapixels > MAX_MEGAPIXELS) {
    throw new PhotoRefused({
      code: 'too many pixels',
      megapixels,
      allowedMegapixels: MAX_MEGAPIXELS,
    })
  }
}
