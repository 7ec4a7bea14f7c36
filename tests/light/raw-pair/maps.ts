import type { LightMap } from '../../../src/light/raw-pair/light-map.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'

/** A map of square cells by the light, and the flags, at the middle of each. */
export function map(
  width: number,
  height: number,
  light: (x: number, y: number) => Triple,
  { cell = 8, flag = (_x: number, _y: number): number => 0 } = {},
): LightMap {
  const made = {
    width,
    height,
    cell,
    of: { width: width * cell, height: height * cell },
    light: new Float32Array(3 * width * height),
    flags: new Uint8Array(width * height),
  }
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      made.light.set(light(x + 0.5, y + 0.5), 3 * (y * width + x))
      made.flags[y * width + x] = flag(x, y)
    }
  return made
}

export const grey = (level: number): Triple => [level, 0.5 * level, 0.1 * level]
