import { mapColour } from '../../colour/map-scale.ts'
import { type HeatMap, stateCode } from '../../estimate/map/heat-map.ts'

/** Temperatures between which the scale runs, K. */
export interface MapRange {
  readonly lowK: number
  readonly highK: number
}

const SHADES = 256

/** The colours of a scale, RGB bytes one after the other. */
export function shades(brightest: number): Uint8Array {
  const table = new Uint8Array(3 * SHADES)
  for (let i = 0; i < SHADES; i++)
    for (const [c, code] of mapColour(i / (SHADES - 1), brightest).entries())
      table[3 * i + c] = Math.round(255 * code)
  return table
}

/** Cells that glow and were left out are hatched, so that nobody takes them for a temperature. */
const LEFT_OUT = { light: 190, dark: 40, alpha: 110 }

/** A map as RGBA, one pixel a cell; clear where nothing glows. */
export function mapPixels(
  { columns, temperatureK, state }: Pick<HeatMap, 'columns' | 'temperatureK' | 'state'>,
  { lowK, highK }: MapRange,
  table: Uint8Array,
): Uint8ClampedArray<ArrayBuffer> {
  const rgba = new Uint8ClampedArray(4 * temperatureK.length)
  const scale = (SHADES - 1) / Math.max(highK - lowK, 1e-6)
  const notGlow = stateCode('not glow')
  for (let at = 0; at < temperatureK.length; at++) {
    const kelvin = temperatureK[at]!
    if (Number.isNaN(kelvin)) {
      if (state[at] === notGlow) continue
      const stripe = (at + Math.floor(at / columns)) % 4 < 2 ? LEFT_OUT.light : LEFT_OUT.dark
      rgba.fill(stripe, 4 * at, 4 * at + 3)
      rgba[4 * at + 3] = LEFT_OUT.alpha
      continue
    }
    const shade = Math.min(Math.max(Math.round((kelvin - lowK) * scale), 0), SHADES - 1)
    rgba[4 * at] = table[3 * shade]!
    rgba[4 * at + 1] = table[3 * shade + 1]!
    rgba[4 * at + 2] = table[3 * shade + 2]!
    rgba[4 * at + 3] = 255
  }
  return rgba
}

/** As a PNG, one pixel a cell. */
export function mapPng(map: HeatMap, range: MapRange, table: Uint8Array): Promise<Blob> {
  const canvas = new OffscreenCanvas(map.columns, map.rows)
  const pixels = new ImageData(mapPixels(map, range, table), map.columns, map.rows)
  canvas.getContext('2d')?.putImageData(pixels, 0, 0)
  return canvas.convertToBlob({ type: 'image/png' })
}
