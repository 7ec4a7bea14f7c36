import type { CardLight } from '../../light/card-light.ts'
import { type ClippingLevels, clippingLevels } from '../../light/clipping-level.ts'
import { type GreyMeasurement, measureGrey } from '../../light/grey-reference.ts'
import type { Region, StoredImage } from '../../light/image.ts'
import { measurePhoto, type PhotoMeasurement } from '../../light/measure-photo.ts'
import { grown, type PixelBox, pixelBox } from '../../light/region.ts'
import { toLinearLight } from '../../light/tone-response.ts'
import type { Unevenness } from '../../light/unevenness.ts'
import { type Crop, type PixelSource, readCrop } from './pixel-source.ts'

/** Most pixels of a crop: as stored codes and as linear light they take 24 bytes each. */
const MOST_PIXELS = 2_000_000

/**
 * Measures a glow in a picture of which only a crop is read. The crop holds the region and a close
 * ring; where no dark surroundings show in it, a second, wider one is read.
 */
export async function measureInSource(
  source: PixelSource,
  region: Region,
  options: { readonly chromaSubsampled: boolean; readonly levels: ClippingLevels },
): Promise<PhotoMeasurement> {
  const { width, height } = source
  const margin = Math.max(64, Math.min(region.width, region.height))
  const close = pixelBox({ ...grown(region, margin), shape: 'rectangle' }, width, height)
  const found = await measureInBox(source, region, close, options)
  if (found.background !== null || found.patch.refusal !== null) return found
  const far = Math.max(1.5 * Math.max(region.width, region.height), Math.max(width, height) / 4)
  const wide = pixelBox({ ...grown(region, far), shape: 'rectangle' }, width, height)
  return measureInBox(source, region, wide, options)
}

async function measureInBox(
  source: PixelSource,
  region: Region,
  box: PixelBox,
  options: { readonly chromaSubsampled: boolean; readonly levels: ClippingLevels },
): Promise<PhotoMeasurement> {
  const crop = await readCrop(source, box, MOST_PIXELS)
  const measured = measurePhoto(crop.image, regionInCrop(region, crop), {
    chromaSubsampled: options.chromaSubsampled,
    levels: lowerLevels(options.levels, crop.image),
  })
  return inPicture(measured, region, crop)
}

/** Measures a grey reference: the region alone. */
export async function measureGreyInSource(
  source: PixelSource,
  region: Region,
  light: CardLight,
  levels: ClippingLevels,
): Promise<GreyMeasurement> {
  const crop = await readCrop(source, pixelBox(region, source.width, source.height), MOST_PIXELS)
  const linear = toLinearLight(crop.image, lowerLevels(levels, crop.image))
  const measured = measureGrey(linear, regionInCrop(region, crop), light)
  return { ...measured, region, unevenness: partsInPicture(measured.unevenness, crop) }
}

/** A plateau may show in the whole picture or, where the glow is small, only in the crop. */
export function lowerLevels(whole: ClippingLevels, crop: StoredImage): ClippingLevels {
  const own = clippingLevels(crop)
  const code = (c: 0 | 1 | 2) => Math.min(whole.codes[c], own.codes[c])
  const plateau = (c: 0 | 1 | 2) => whole.plateau[c] || own.plateau[c]
  return { codes: [code(0), code(1), code(2)], plateau: [plateau(0), plateau(1), plateau(2)] }
}

export function regionInCrop(region: Region, { left, top, step }: Crop): Region {
  return {
    shape: region.shape,
    x: (region.x - left) / step,
    y: (region.y - top) / step,
    width: region.width / step,
    height: region.height / step,
  }
}

/** The inverse of {@link regionInCrop}. */
export function regionInPicture(region: Region, { left, top, step }: Crop): Region {
  return {
    shape: region.shape,
    x: region.x * step + left,
    y: region.y * step + top,
    width: region.width * step,
    height: region.height * step,
  }
}

/** Lengths and places in pixels of the picture again. */
function inPicture(measured: PhotoMeasurement, region: Region, crop: Crop): PhotoMeasurement {
  const width = (pixels: number) => crop.step * pixels
  return {
    ...measured,
    region,
    unevenness: partsInPicture(measured.unevenness, crop),
    quality: { ...measured.quality, glowWidthPixels: width(measured.quality.glowWidthPixels) },
    findings: measured.findings.map((finding) => {
      const { widthPixels } = finding.values
      return widthPixels === undefined
        ? finding
        : { ...finding, values: { ...finding.values, widthPixels: width(widthPixels) } }
    }),
  }
}

export function partsInPicture(unevenness: Unevenness, crop: Crop): Unevenness {
  const part = (of: Unevenness['hottest']) =>
    of === null ? null : { ...of, region: regionInPicture(of.region, crop) }
  return { ...unevenness, hottest: part(unevenness.hottest), coolest: part(unevenness.coolest) }
}
