import type { Region } from './image.ts'

/** The part of the photo that is seen, in photo pixels. */
export interface View {
  readonly x: number
  readonly y: number
  readonly width: number
  readonly height: number
}

export interface Size {
  readonly width: number
  readonly height: number
}

/** Smaller than this, noise and the blur of the lens rule. */
export const SMALLEST_REGION = 4
const CLOSEST_VIEW = 24

const clamp = (value: number, low: number, high: number) => Math.min(high, Math.max(low, value))

export function wholeView({ width, height }: Size): View {
  return { x: 0, y: 0, width, height }
}

/** Keeps a region inside the photo and not below the smallest size. */
export function keepInside(region: Region, photo: Size): Region {
  const width = clamp(region.width, SMALLEST_REGION, photo.width)
  const height = clamp(region.height, SMALLEST_REGION, photo.height)
  return {
    shape: region.shape,
    width,
    height,
    x: clamp(region.x, 0, photo.width - width),
    y: clamp(region.y, 0, photo.height - height),
  }
}

export function moveBy(region: Region, dx: number, dy: number, photo: Size): Region {
  return keepInside({ ...region, x: region.x + dx, y: region.y + dy }, photo)
}

export function centreAt(region: Region, x: number, y: number, photo: Size): Region {
  return keepInside({ ...region, x: x - region.width / 2, y: y - region.height / 2 }, photo)
}

/** Scales about the centre. */
export function scaleBy(region: Region, fx: number, fy: number, photo: Size): Region {
  const width = region.width * fx
  const height = region.height * fy
  return keepInside(
    {
      shape: region.shape,
      width,
      height,
      x: region.x + (region.width - width) / 2,
      y: region.y + (region.height - height) / 2,
    },
    photo,
  )
}

/** Corners by the sides they move: -1 left or top, 1 right or bottom. */
export const CORNERS = [
  [-1, -1],
  [1, -1],
  [1, 1],
  [-1, 1],
] as const
export type Corner = (typeof CORNERS)[number]

/** Drags one corner to a point; the opposite corner stays. */
export function dragCorner(
  region: Region,
  [sx, sy]: Corner,
  x: number,
  y: number,
  photo: Size,
): Region {
  const fixedX = sx < 0 ? region.x + region.width : region.x
  const fixedY = sy < 0 ? region.y + region.height : region.y
  const width = Math.max(SMALLEST_REGION, sx * (x - fixedX))
  const height = Math.max(SMALLEST_REGION, sy * (y - fixedY))
  return keepInside(
    {
      shape: region.shape,
      width,
      height,
      x: sx < 0 ? fixedX - width : fixedX,
      y: sy < 0 ? fixedY - height : fixedY,
    },
    photo,
  )
}

/** Zooms about a point of the photo; factor above 1 comes closer. The view never leaves the photo. */
export function zoomView(view: View, factor: number, x: number, y: number, photo: Size): View {
  const longest = Math.max(photo.width, photo.height)
  const scale = clamp(view.width / factor / photo.width, Math.min(1, CLOSEST_VIEW / longest), 1)
  const width = photo.width * scale
  const height = photo.height * scale
  return {
    width,
    height,
    x: clamp(x - ((x - view.x) / view.width) * width, 0, photo.width - width),
    y: clamp(y - ((y - view.y) / view.height) * height, 0, photo.height - height),
  }
}

/** A view in which the region takes about a third of the shorter side. */
export function viewOfRegion(region: Region, photo: Size): View {
  const share = 3
  const factor = Math.min(
    photo.width / Math.min(photo.width, region.width * share),
    photo.height / Math.min(photo.height, region.height * share),
  )
  const x = region.x + region.width / 2
  const y = region.y + region.height / 2
  const zoomed = zoomView(wholeView(photo), factor, x, y, photo)
  return {
    ...zoomed,
    x: clamp(x - zoomed.width / 2, 0, photo.width - zoomed.width),
    y: clamp(y - zoomed.height / 2, 0, photo.height - zoomed.height),
  }
}

/** A first region when nothing was proposed: the middle of the picture. */
export function middleRegion({ width, height }: Size): Region {
  const side = Math.min(width, height) / 6
  return {
    shape: 'rectangle',
    x: (width - side) / 2,
    y: (height - side) / 2,
    width: side,
    height: side,
  }
}
