import { mapCss } from '../../colour/map-scale.ts'
import type { HeatMap } from '../../estimate/map/heat-map.ts'
import { showPlusMinus, showTemperature } from '../temperature.ts'
import type { Isotherm } from './isotherms.ts'
import { type MapRange, mapPixels, shades } from './map-picture.ts'
import type { MapPicture } from './map-stage.tsx'

/** Width of the picture, and of its border, pixels. */
const WIDTH = 1200
const EDGE = 32
const LINE = 30
const SCALE_HEIGHT = 36

/** A map as a picture that can be printed: over its photo, with scale, uncertainties and lines of text. */
export async function mapPoster(
  map: HeatMap,
  {
    range,
    lines,
    picture,
    opacity,
    says,
  }: {
    readonly range: MapRange
    readonly lines: readonly Isotherm[]
    readonly picture: MapPicture | null
    readonly opacity: number
    readonly says: readonly string[]
  },
): Promise<Blob> {
  const { columns, rows, side, left, top } = map
  const inner = WIDTH - 2 * EDGE
  const zoom = inner / (columns * side)
  const height = rows * side * zoom
  const texts = [`${showPlusMinus(map.scale.common95K / 2)} shift of the whole map`, ...says]
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
  cells
    .getContext('2d')
    ?.putImageData(new ImageData(mapPixels(map, range, shades(1)), columns, rows), 0, 0)
  context.globalAlpha = picture ? opacity : 1
  context.imageSmoothingEnabled = false
  context.drawImage(cells, 0, 0, inner, height)
  context.globalAlpha = 1
  context.scale(zoom, zoom)
  context.translate(-left, -top)
  for (const { path, label, temperatureK } of lines) {
    const drawn = new Path2D(path)
    context.strokeStyle = 'rgb(0 0 0 / 0.6)'
    context.lineWidth = 5 / zoom
    context.stroke(drawn)
    context.strokeStyle = '#fff'
    context.lineWidth = 2 / zoom
    context.stroke(drawn)
    if (!label) continue
    context.font = `600 ${22 / zoom}px sans-serif`
    context.textAlign = 'center'
    context.lineWidth = 5 / zoom
    context.strokeStyle = '#000'
    const text = showTemperature(temperatureK).replace(/ .*/, '')
    context.strokeText(text, label.x, label.y)
    context.fillStyle = '#fff'
    context.fillText(text, label.x, label.y)
  }
  context.restore()
  let y = EDGE + height + EDGE
  for (let x = 0; x < inner; x++) {
    context.fillStyle = mapCss(x / inner)
    context.fillRect(EDGE + x, y, 1, SCALE_HEIGHT)
  }
  y += SCALE_HEIGHT + LINE
  context.fillStyle = '#000'
  context.font = '22px sans-serif'
  for (const [share, align] of [
    [0, 'left'],
    [0.5, 'center'],
    [1, 'right'],
  ] as const) {
    context.textAlign = align
    const kelvin = range.lowK + share * (range.highK - range.lowK)
    context.fillText(showTemperature(kelvin), EDGE + share * inner, y)
  }
  context.textAlign = 'left'
  for (const text of texts) {
    y += LINE
    context.fillText(text, EDGE, y, inner)
  }
  return canvas.convertToBlob({ type: 'image/png' })
}
