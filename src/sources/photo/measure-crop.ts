import type { CardLightId } from '../../light/card-light.ts'
import { type GreyMeasurement, measureGrey } from '../../light/grey-reference.ts'
import type { Region } from '../../light/image.ts'
import { type GlowOptions, measureGlow } from '../../light/measure-glow.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import { grown, type PixelBox, pixelBox } from '../../light/region.ts'
import type { Unevenness } from '../../light/unevenness.ts'
import type { LightSource, PixelPlace } from './light-source.ts'

/**
 * Most pixels of a crop, in which every second or third pixel of a large region is read. Some
 * hundred independent samples are left, whose noise is small against everything else, and a
 * region that fills a large photo is measured as fast as a small one.
 */
const MOST_PIXELS = 500_000

/**
 * Measures a glow in a picture of which only a crop is read. The crop holds the region and a close
 * ring; where no dark surroundings show in it, a second, wider one is read.
 */
export async function measureInSource(
  source: LightSource,
  region: Region,
  options: GlowOptions,
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
  source: LightSource,
  region: Region,
  box: PixelBox,
  options: GlowOptions,
): Promise<PhotoMeasurement> {
  const crop = await source.crop(box, MOST_PIXELS)
  const inCrop = regionInCrop(region, crop)
  const measured = measureGlow(crop.light, inCrop, options)
  return inPicture({ ...measured, storedLevels: crop.levelsIn(inCrop) }, region, crop)
}

/** Measures a grey reference: the region alone. */
export async function measureGreyInSource(
  source: LightSource,
  region: Region,
  light: CardLightId,
): Promise<GreyMeasurement> {
  const crop = await source.crop(pixelBox(region, source.width, source.height), MOST_PIXELS)
  const measured = measureGrey(crop.light, regionInCrop(region, crop), light)
  return { ...measured, region, unevenness: partsInPicture(measured.unevenness, crop) }
}

export function regionInCrop(region: Region, { left, top, step }: PixelPlace): Region {
  return {
    shape: region.shape,
    x: (region.x - left) / step,
    y: (region.y - top) / step,
    width: region.width / step,
    height: region.height / step,
  }
}

/** The inverse of {@link regionInCrop}. */
function regionInPicture(region: Region, { left, top, step }: PixelPlace): Region {
  return {
    shape: region.shape,
    x: region.x * step + left,
    y: region.y * step + top,
    width: region.width * step,
    height: region.height * step,
  }
}

/** Values of findings that are lengths. */
const LENGTHS = ['widthPixels', 'reachPixels']

/** Lengths and places in pixels of the picture again. */
function inPicture(
  measured: PhotoMeasurement,
  region: Region,
  place: PixelPlace,
): PhotoMeasurement {
  const width = (pixels: number) => place.step * pixels
  return {
    ...measured,
    region,
    unevenness: partsInPicture(measured.unevenness, place),
    quality: { ...measured.quality, glowWidthPixels: width(measured.quality.glowWidthPixels) },
    findings: measured.findings.map((finding) => {
      const lengths = Object.entries(finding.values).filter(([name]) => LENGTHS.includes(name))
      const scaled = Object.fromEntries(lengths.map(([name, pixels]) => [name, width(pixels)]))
      return { ...finding, values: { ...finding.values, ...scaled } }
    }),
  }
}

function partsInPicture(unevenness: Unevenness, place: PixelPlace): Unevenness {
  const part = (of: Unevenness['hottest']) =>
    of === null ? null : { ...of, region: regionInPicture(of.region, place) }
  return { ...unevenness, hottest: part(unevenness.hottest), coolest: part(unevenness.coolest) }
}
