import { useEffect, useState } from 'preact/hooks'
import { changeColour, mapColour, NO_CHROMA } from '../../colour/map-scale.ts'
import { type HeatMap, stateCode } from '../../estimate/map/heat-map.ts'
import { isChange, type MapChange } from '../../estimate/map/map-change.ts'

/** Temperatures between which the scale runs, K. */
export interface MapRange {
  readonly lowK: number
  readonly highK: number
}

const SHADES = 256

/** How a scale is shown: OKLab lightness of its brightest colour; without hues in a dark shop. */
export interface ScaleLook {
  readonly brightest: number
  readonly chroma?: number | undefined
}

/** On paper, and on a screen that shows all colours. */
export const IN_COLOUR: ScaleLook = { brightest: 1 }

/** For an eye used to the dark the screen shows red alone: a grey stays in order there. */
export const inTheDark = (brightest: number): ScaleLook => ({ brightest, chroma: NO_CHROMA })

/** The colours of a scale, RGB bytes one after the other. */
export function shades({ brightest, chroma }: ScaleLook): Uint8Array {
  const table = new Uint8Array(3 * SHADES)
  for (let i = 0; i < SHADES; i++)
    for (const [c, code] of mapColour(i / (SHADES - 1), brightest, chroma).entries())
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
      if (state[at] !== notGlow) leaveOut(rgba, at, columns)
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

/** A change as RGBA: grey where it does not stand out of its uncertainty. */
export function changePixels(
  { columns, glows }: Pick<MapChange, 'columns' | 'glows'>,
  changeK: Float32Array,
  uncertaintyK: Float32Array,
  mostK: number,
  { brightest, chroma }: ScaleLook,
): Uint8ClampedArray<ArrayBuffer> {
  const rgba = new Uint8ClampedArray(4 * changeK.length)
  const table = Array.from({ length: 2 * SHADES - 1 }, (_, i) =>
    changeColour(i / (SHADES - 1) - 1, brightest, chroma).map((code) => Math.round(255 * code)),
  )
  for (let at = 0; at < changeK.length; at++) {
    const change = changeK[at]!
    if (Number.isNaN(change)) {
      if (glows[at]) leaveOut(rgba, at, columns)
      continue
    }
    const share = isChange(change, uncertaintyK[at]!)
      ? Math.min(Math.max(change / Math.max(mostK, 1e-6), -1), 1)
      : 0
    rgba.set(table[Math.round((share + 1) * (SHADES - 1))]!, 4 * at)
    rgba[4 * at + 3] = 255
  }
  return rgba
}

function leaveOut(rgba: Uint8ClampedArray, at: number, columns: number): void {
  const stripe = (at + Math.floor(at / columns)) % 4 < 2 ? LEFT_OUT.light : LEFT_OUT.dark
  rgba.fill(stripe, 4 * at, 4 * at + 3)
  rgba[4 * at + 3] = LEFT_OUT.alpha
}

/** As a PNG, one pixel a cell. */
export function cellsPng(
  pixels: Uint8ClampedArray<ArrayBuffer>,
  columns: number,
  rows: number,
): Promise<Blob> {
  const canvas = new OffscreenCanvas(columns, rows)
  canvas.getContext('2d')?.putImageData(new ImageData(pixels, columns, rows), 0, 0)
  return canvas.convertToBlob({ type: 'image/png' })
}

/** Object URL of cells; null until it is made, let go with the next ones. */
export function useCellsUrl(
  pixels: Uint8ClampedArray<ArrayBuffer>,
  { columns, rows }: Pick<HeatMap, 'columns' | 'rows'>,
): string | null {
  const [url, setUrl] = useState<string | null>(null)
  useEffect(() => {
    let made: string | null = null
    let wanted = true
    void cellsPng(pixels, columns, rows).then((blob) => {
      if (!wanted) return
      made = URL.createObjectURL(blob)
      setUrl(made)
    })
    return () => {
      wanted = false
      if (made !== null) URL.revokeObjectURL(made)
    }
  }, [pixels, columns, rows])
  return url
}
