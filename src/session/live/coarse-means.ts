import { LIVE_READ, type LiveCells } from '../../light/live/live-cells.ts'
import type { LiveScale } from './live-map.ts'

/** Cells each way that make a larger one: lines through the noise of single ones would be ragged. */
const LARGER = 4

/** Means over larger cells of which half was read; NaN elsewhere. Pixels of the frame. */
export function coarseMeans(cells: LiveCells, kelvin: (at: number) => number): LiveScale['coarse'] {
  const columns = Math.floor(cells.columns / LARGER)
  const rows = Math.floor(cells.rows / LARGER)
  const temperatureK = new Float32Array(columns * rows).fill(Number.NaN)
  for (let row = 0; row < rows; row++)
    for (let column = 0; column < columns; column++) {
      let [sum, count] = [0, 0]
      for (let dy = 0; dy < LARGER; dy++)
        for (let dx = 0; dx < LARGER; dx++) {
          const at = (row * LARGER + dy) * cells.columns + column * LARGER + dx
          if (cells.state[at] !== LIVE_READ) continue
          sum += kelvin(at)
          count++
        }
      if (count >= LARGER ** 2 / 2) temperatureK[row * columns + column] = sum / count
    }
  return { columns, rows, side: cells.side * LARGER, left: 0, top: 0, temperatureK }
}
