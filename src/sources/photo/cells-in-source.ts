import type { Region } from '../../light/image.ts'
import { glowExtent } from '../../light/map/glow-extent.ts'
import { type CellOptions, type HeatCells, heatCells } from '../../light/map/heat-cells.ts'
import type { PixelBox } from '../../light/region.ts'
import type { LightSource } from './light-source.ts'
import { regionInCrop } from './measure-crop.ts'

/** Pixels that are looked at for the extent of the glow, and for its cells. */
const LOOK_PIXELS = 200_000
const CELL_PIXELS = 1_000_000
/** Dark surroundings that the outline needs, pixels of the crop. */
const AROUND = 24

/** The cells of the whole glow under a region of a picture. */
export async function cellsInSource(
  source: LightSource,
  region: Region,
  options: CellOptions,
): Promise<HeatCells> {
  const { width, height } = source
  const whole = { left: 0, top: 0, right: width, bottom: height }
  const look = await source.crop(whole, LOOK_PIXELS)
  const extent = glowExtent(look.light, regionInCrop(region, look))
  const margin = AROUND + 2 * look.step
  const box: PixelBox = {
    left: Math.max(0, extent.left * look.step - margin),
    top: Math.max(0, extent.top * look.step - margin),
    right: Math.min(width, extent.right * look.step + margin),
    bottom: Math.min(height, extent.bottom * look.step + margin),
  }
  const crop = await source.crop(box, CELL_PIXELS)
  const cells = heatCells(crop.light, regionInCrop(region, crop), options, crop.step)
  return { ...cells, left: crop.left, top: crop.top }
}
