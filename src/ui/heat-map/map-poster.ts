import type { CellGrid, Point } from '../../estimate/map/profile.ts'
import { showTemperature } from '../temperature.ts'
import type { Isotherm } from './isotherms.ts'
import { type MapMarks, trianglePath } from './map-marks.ts'
import type { MapPicture, Path } from './map-stage.tsx'

/** Width of the picture, and of its border, pixels. */
const WIDTH = 1200
const EDGE = 32
const LINE = 30
const SCALE_HEIGHT = 36
const MARK = 14

export interface Poster {
  readonly grid: CellGrid
  /** RGBA, one pixel a cell. */
  readonly cells: Uint8ClampedArray<ArrayBuffer>
  readonly lines: readonly Isotherm[]
  readonly marks: MapMarks
  /** Path of the target band; null: none. */
  readonly band?: string | null
  readonly paths?: readonly Path[]
  readonly picture: MapPicture | null
  readonly opacity: number
  /** CSS colour of a share of the scale, 0..1, and what stands below its ends and its middle. */
  colourAt(share: number): string
  readonly ticks: readonly [string, string, string]
  /** Lines of text below. */
  readonly texts: readonly string[]
}

/** A map as a picture that can be printed: over its photo, with scale, uncertainties and lines of text. */
export async function mapPoster({
  grid: { columns, rows, side, left, top },
  cells: pixels,
  lines,
  marks,
  band,
  paths = [],
  picture,
  opacity,
  colourAt,
  ticks,
  texts,
}: Poster): Promise<Blob> {
  const inner = WIDTH - 2 * EDGE
  const zoom = inner / (columns * side)
  const height = rows * side * zoom
  const canvas = new OffscreenCanvas(
    WIDTH,
    Math.round(height + SCALE_HEIGHT + (texts.length + 2) * LINE + 3 * EDGE),
  )
  const context = canvas.getContext('2d')
  if (!context) throw new Error('no canvas')
  context.fillStyle = '#fff'
  context.fillRect(0, 0, canvas.width, canvas.height)
  context.save()
  context.translate(EDGE, EDGE)
  context.beginPath()
  context.rect(0, 0, inner, height)
  context.clip()
  context.fillStyle = '#000'
  context.fillRect(0, 0, inner, height)
  if (picture) {
    const image = new Image()
    image.src = picture.url
    await image.decode()
    const [x, y] = [-left * zoom, -top * zoom]
    context.drawImage(image, x, y, picture.width * zoom, picture.height * zoom)
  }
  const cells = new OffscreenCanvas(columns, rows)
  cells.getContext('2d')?.putImageData(new ImageData(pixels, columns, rows), 0, 0)
  context.globalAlpha = picture ? opacity : 1
  context.imageSmoothingEnabled = false
  context.drawImage(cells, 0, 0, inner, height)
  context.globalAlpha = 1
  context.scale(zoom, zoom)
  context.translate(-left, -top)
  if (band) {
    const drawn = new Path2D(band)
    context.fillStyle = 'rgb(255 255 255 / 0.35)'
    context.fill(drawn, 'evenodd')
    context.strokeStyle = '#fff'
    context.lineWidth = 3 / zoom
    context.stroke(drawn)
  }
  const written = (text: string, { x, y }: Point) => {
    context.font = `600 ${22 / zoom}px sans-serif`
    context.textAlign = 'center'
    context.lineWidth = 5 / zoom
    context.strokeStyle = '#000'
    context.strokeText(text, x, y)
    context.fillStyle = '#fff'
    context.fillText(text, x, y)
  }
  for (const { path, label, temperatureK } of lines) {
    outlined(context, 2 / zoom, new Path2D(path))
    if (label) written(showTemperature(temperatureK).replace(/ .*/, ''), label)
  }
  for (const { points, letter } of paths) {
    context.beginPath()
    for (const { x, y } of points) context.lineTo(x, y)
    outlined(context, 2 / zoom)
    if (paths.length > 1 && points[0]) written(letter, points[0])
  }
  for (const { at, radius, broken } of marks.rings) {
    const ring = new Path2D()
    ring.arc(at.x, at.y, radius, 0, 2 * Math.PI)
    outlined(context, 3 / zoom, ring, broken ? [9 / zoom, 9 / zoom] : [])
  }
  for (const [place, up] of [
    [marks.hottest, true],
    [marks.coolest, false],
  ] as const) {
    if (!place) continue
    const mark = new Path2D(trianglePath(place, MARK / zoom, up))
    outlined(context, 2 / zoom, mark)
    context.fillStyle = '#fff'
    context.fill(mark)
  }
  context.restore()
  let y = EDGE + height + EDGE
  for (let x = 0; x < inner; x++) {
    context.fillStyle = colourAt(x / inner)
    context.fillRect(EDGE + x, y, 1, SCALE_HEIGHT)
  }
  y += SCALE_HEIGHT + LINE
  context.fillStyle = '#000'
  context.font = '22px sans-serif'
  for (const [i, align] of (['left', 'center', 'right'] as const).entries()) {
    context.textAlign = align
    context.fillText(ticks[i]!, EDGE + (i / 2) * inner, y)
  }
  context.textAlign = 'left'
  for (const text of texts) {
    y += LINE
    context.fillText(text, EDGE, y, inner)
  }
  return canvas.convertToBlob({ type: 'image/png' })
}

/** A white line on a dark one, readable over everything. */
function outlined(
  context: OffscreenCanvasRenderingContext2D,
  width: number,
  path: Path2D | null = null,
  dashes: readonly number[] = [],
): void {
  for (const [colour, wide] of [
    ['rgb(0 0 0 / 0.6)', 2.5 * width],
    ['#fff', width],
  ] as const) {
    context.strokeStyle = colour
    context.lineWidth = wide
    // Under a broken line too, a dark one runs through.
    context.setLineDash(colour === '#fff' ? [...dashes] : [])
    if (path) context.stroke(path)
    else context.stroke()
  }
}
