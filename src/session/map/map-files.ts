/** A map's cells as files for other programs. */
import { type HeatMap, MAP_STATES } from '../../estimate/map/heat-map.ts'
import type { MapChange } from '../../estimate/map/map-change.ts'
import { writeTiffPicture } from '../../sources/files/write-tiff.ts'

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

const DESCRIPTION = 270

/** A grey picture of 16 bits, one pixel a cell, 0 where nothing was read; its description says the scale. */
export function mapTiff(map: HeatMap): Uint8Array<ArrayBuffer> {
  const { columns, rows, temperatureK, scale, side, left, top } = map
  const samples = Uint16Array.from(temperatureK, (kelvin) =>
    Number.isFinite(kelvin) ? Math.min(Math.round(STEPS * kelvin), 65_535) : 0,
  )
  const description =
    `kelvin = value / ${STEPS}; 0: not read; standard uncertainty common to all ` +
    `${scale.commonK.toFixed(DIGITS)} K; one pixel is ${side} pixels of the picture from ` +
    `${left}, ${top}`
  const more = [{ tag: DESCRIPTION, type: 'text', values: description } as const]
  return writeTiffPicture({ width: columns, height: rows, channels: 1, samples, more })
}
