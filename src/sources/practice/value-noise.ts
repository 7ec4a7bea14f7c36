/** Smooth noise of one octave, 0..1, with features about one unit wide; the same for ever. */
function valueNoise(x: number, y: number, seed: number): number {
  const [column, row] = [Math.floor(x), Math.floor(y)]
  const [u, v] = [x - column, y - row].map((t) => t * t * (3 - 2 * t)) as [number, number]
  const at = (dx: number, dy: number) => hash(column + dx, row + dy, seed)
  const top = at(0, 0) + u * (at(1, 0) - at(0, 0))
  const bottom = at(0, 1) + u * (at(1, 1) - at(0, 1))
  return top + v * (bottom - top)
}

function hash(x: number, y: number, seed: number): number {
  let h = Math.imul(x, 0x27d4eb2d) ^ Math.imul(y, 0x165667b1) ^ Math.imul(seed, 0x9e3779b1)
  h = Math.imul(h ^ (h >>> 15), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return ((h ^ (h >>> 16)) >>> 0) / 4294967296
}

/** Four octaves of smooth noise, 0..1, mean 0.5. */
export function fractalNoise(x: number, y: number, seed: number): number {
  let [sum, weight, size] = [0, 0, 1]
  for (let octave = 0; octave < 4; octave++) {
    sum += size * valueNoise(x / size, y / size, seed + octave)
    weight += size
    size /= 2
  }
  return sum / weight
}
