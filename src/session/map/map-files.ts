/** A map's cells as files for other programs. */
import { type HeatMap, MAP_STATES } from '../../estimate/map/heat-map.ts'
import type { MapChange } from '../../estimate/map/map-change.ts'

const DIGITS = 2

/**
 * A table of all cells that glow: RFC 4180, point as decimal sign, kelvin. Places are the middles of
 * cells, pixels of the picture.
 */
export function mapCsv(map: HeatMap): string {
  const { columns, side, left, top, state, temperatureK, ownK, leaningK, levelLeaningK } = map
  const { scale } = map
  const lines = ['x_px,y_px,temperature_K,u_noise_K,u_scale_K,u_level_K,u_common_K,state']
  const number = (value: number) => (Number.isFinite(value) ? value.toFixed(DIGITS) : '')
  for (let at = 0; at < temperatureK.length; at++) {
    const name = MAP_STATES[state[at]!]!
    if (name === 'not glow') continue
    lines.push(
      [
        number(left + ((at % columns) + 0.5) * side),
        number(top + (Math.floor(at / columns) + 0.5) * side),
        number(temperatureK[at]!),
        number(ownK[at]!),
        number(leaningK[at]!),
        number(levelLeaningK[at]!),
        Number.isFinite(temperatureK[at]!) ? number(scale.commonK) : '',
        name,
      ].join(','),
    )
  }
  return `${lines.join('\r\n')}\r\n`
}

/** The cells of a change that were read in both maps, in the earlier picture's pixels; as {@link mapCsv}. */
export function changeCsv(change: MapChange): string {
  const { columns, side, left, top, changeK, standardUncertaintyK, againstMiddleK } = change
  const lines = ['x_px,y_px,change_K,u_K,u_against_middle_K']
  for (let at = 0; at < changeK.length; at++) {
    if (Number.isNaN(changeK[at]!)) continue
    const values = [
      left + ((at % columns) + 0.5) * side,
      top + (Math.floor(at / columns) + 0.5) * side,
      changeK[at]!,
      standardUncertaintyK[at]!,
      againstMiddleK[at]!,
    ]
    lines.push(values.map((value) => value.toFixed(DIGITS)).join(','))
  }
  return `${lines.join('\r\n')}\r\n`
}

/** Steps a kelvin of the 16-bit picture. */
const STEPS = 20

/** Tags of TIFF 6.0 (1992), section 2 and 4; type 2 text, 3 short, 4 long. */
const WIDTH = 256
const LENGTH = 257
const BITS = 258
const COMPRESSION = 259
const PHOTOMETRIC = 262
const DESCRIPTION = 270
const STRIPS = 273
const SAMPLES = 277
const ROWS_PER_STRIP = 278
const STRIP_BYTES = 279

/**
 * A grey picture of 16 bits, one pixel a cell, 0 where nothing was read; its description says the scale
 * (TIFF 6.0, baseline grey with 16 bits).
 */
export function mapTiff(map: HeatMap): Uint8Array<ArrayBuffer> {
  const { columns, rows, temperatureK, scale, side, left, top } = map
  const description =
    `kelvin = value / ${STEPS}; 0: not read; standard uncertainty common to all ` +
    `${scale.commonK.toFixed(DIGITS)} K; one pixel is ${side} pixels of the picture from ` +
    `${left}, ${top}\0`
  const text = new TextEncoder().encode(description)
  const pixels = 2 * columns * rows
  const entries = [
    [WIDTH, 4, 1, columns],
    [LENGTH, 4, 1, rows],
    [BITS, 3, 1, 16],
    [COMPRESSION, 3, 1, 1],
    // Black is 0.
    [PHOTOMETRIC, 3, 1, 1],
    [DESCRIPTION, 2, text.length, 0],
    [STRIPS, 4, 1, 0],
    [SAMPLES, 3, 1, 1],
    [ROWS_PER_STRIP, 4, 1, rows],
    [STRIP_BYTES, 4, 1, pixels],
  ]
  const head = 8 + 2 + 12 * entries.length + 4
  const textAt = head
  const pixelsAt = textAt + text.length + (text.length % 2)
  const bytes = new Uint8Array(pixelsAt + pixels)
  const view = new DataView(bytes.buffer)
  // Little-endian, the directory follows at once.
  view.setUint16(0, 0x4949, true)
  view.setUint16(2, 42, true)
  view.setUint32(4, 8, true)
  view.setUint16(8, entries.length, true)
  for (const [i, [tag, type, count, value]] of entries.entries()) {
    const at = 10 + 12 * i
    view.setUint16(at, tag!, true)
    view.setUint16(at + 2, type!, true)
    view.setUint32(at + 4, count!, true)
    const stored = tag === DESCRIPTION ? textAt : tag === STRIPS ? pixelsAt : value!
    if (type === 3) view.setUint16(at + 8, stored, true)
    else view.setUint32(at + 8, stored, true)
  }
  bytes.set(text, textAt)
  for (let at = 0; at < temperatureK.length; at++) {
    const kelvin = temperatureK[at]!
    const value = Number.isFinite(kelvin) ? Math.min(Math.round(STEPS * kelvin), 65_535) : 0
    view.setUint16(pixelsAt + 2 * at, value, true)
  }
  return bytes
}
