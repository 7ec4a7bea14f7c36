import type { Region } from './image.ts'

/** Whole-pixel box: left and top inside, right and bottom just outside. */
export interface PixelBox {
  readonly left: number
  readonly top: number
  readonly right: number
  readonly bottom: number
}

/** Pixels whose centres can lie in the region, cut at the picture's edge; may be empty. */
export function pixelBox(region: Region, width: number, height: number): PixelBox {
  const clamp = (v: number, top: number) => Math.min(Math.max(v, 0), top)
  const left = clamp(Math.ceil(region.x - 0.5), width)
  const top = clamp(Math.ceil(region.y - 0.5), height)
  return {
    left,
    top,
    right: Math.max(left, clamp(Math.ceil(region.x + region.width - 0.5), width)),
    bottom: Math.max(top, clamp(Math.ceil(region.y + region.height - 0.5), height)),
  }
}

/** Whether the centre of pixel (px, py) lies in the region. */
export function inRegion(region: Region, px: number, py: number): boolean {
  const u = (px + 0.5 - region.x) / region.width
  const v = (py + 0.5 - region.y) / region.height
  if (region.shape === 'rectangle') return u >= 0 && u < 1 && v >= 0 && v < 1
  return (2 * u - 1) ** 2 + (2 * v - 1) ** 2 <= 1
}

/** The region with the same centre, grown by a margin in pixels on every side. */
export function grown(region: Region, marginPixels: number): Region {
  return {
    shape: region.shape,
    x: region.x - marginPixels,
    y: region.y - marginPixels,
    width: region.width + 2 * marginPixels,
    height: region.height + 2 * marginPixels,
  }
}

/** The same place on the same picture at another size: 2 doubles every length. */
export function scaledRegion(region: Region, factor: number): Region {
  return {
    shape: region.shape,
    x: region.x * factor,
    y: region.y * factor,
    width: region.width * factor,
    height: region.height * factor,
  }
}
