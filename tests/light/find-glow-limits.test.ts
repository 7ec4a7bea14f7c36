import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { findGlow } from '../../src/light/find-glow.ts'
import type { StoredImage } from '../../src/light/image.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

/** In blocks of 8 pixels: 16 x 12 of them. */
const [COLUMNS, ROWS, BLOCK] = [16, 12, 8]
const DARK: Triple = [0, 0, 0]

/** A picture of even blocks. */
function picture(light: (column: number, row: number) => Triple): StoredImage {
  const [width, height] = [COLUMNS * BLOCK, ROWS * BLOCK]
  const codes = new Float32Array(3 * width * height)
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) {
      const of = light(Math.floor(x / BLOCK), Math.floor(y / BLOCK))
      codes.set(of.map(encodeTransfer), 3 * (y * width + x))
    }
  return { width, height, space: 'display-p3', codes }
}
const inBar = (column: number, row: number, [l, t, r, b]: readonly number[] = [4, 3, 12, 9]) =>
  column >= l! && column < r! && row >= t! && row < b!
const glow = (red: number): Triple => [red, 0.15 * red, 0.01 * red]
const find = (light: (column: number, row: number) => Triple) => findGlow(picture(light))
function found(light: (column: number, row: number) => Triple) {
  const result = find(light)
  if (result.kind !== 'found') throw new Error(result.reason)
  return result
}
const reason = (light: (column: number, row: number) => Triple) => {
  const result = find(light)
  return result.kind === 'none' ? result.reason : null
}

describe('where a glow is looked for', () => {
  test('half a block off every edge of its even part', () => {
    const { region, redLevel, greenOverRed } = found((c, r) => (inBar(c, r) ? glow(0.3) : DARK))
    expect(region).toEqual({ shape: 'rectangle', x: 36, y: 28, width: 56, height: 40 })
    expect(redLevel).toBeCloseTo(0.3, 2)
    expect(greenOverRed).toBeCloseTo(0.15, 2)
  })

  test('down to a fiftieth of full scale', () => {
    expect(reason((c, r) => (inBar(c, r) ? glow(0.0205) : DARK))).toBeNull()
    expect(reason((c, r) => (inBar(c, r) ? glow(0.0192) : DARK))).toBe('all black')
  })

  test('with no more green than 0.55 of red, and hardly any blue', () => {
    const of = (green: number, blue: number) =>
      reason((c, r) => (inBar(c, r) ? [0.4, 0.4 * green, 0.4 * blue] : DARK))
    expect(of(0.54, 0.1)).toBeNull()
    expect(of(0.56, 0.1)).toBe('no glow colour')
    for (const green of [0.1, 0.5]) {
      const blue = 0.07 + 0.55 * green ** 2
      expect(of(green, blue - 0.004)).toBeNull()
      expect(of(green, blue + 0.004)).toBe('no glow colour')
    }
  })

  test('above a quarter of its brightest part: below it is halo', () => {
    const beside = (share: number) =>
      found((c, r) =>
        inBar(c, r, [4, 3, 7, 9])
          ? glow(0.6)
          : inBar(c, r, [7, 3, 14, 9])
            ? glow(0.6 * share)
            : DARK,
      ).region
    // The wider part wins where it is a surface.
    expect(beside(0.26).x).toBeGreaterThanOrEqual(56)
    expect(beside(0.24).x).toBeLessThan(56)
  })

  test('as one part over steps of 0.3 in ln of level and 0.35 in colour', () => {
    const width = (level: number, colour: number) =>
      found((c, r) => {
        if (!inBar(c, r, [2, 3, 14, 9])) return DARK
        const red = c < 9 ? 0.3 : 0.3 * Math.exp(-level)
        return [red, red * (0.2 * Math.exp(c < 9 ? 0 : colour)), 0.01 * red]
      }).region.width
    expect(width(0.29, 0)).toBe(88)
    expect(width(0.31, 0)).toBe(48)
    // ln(G/R + 0.01) at 0.2 is a little less than ln(G/R), and light is told by codes of 8 bits.
    expect(width(0, 0.33)).toBe(88)
    expect(width(0, 0.4)).toBe(48)
  })

  test('of nearly one level: 0.35 in ln either side of its middle', () => {
    const width = (ln: number) =>
      found((c, r) => {
        if (!inBar(c, r, [2, 3, 14, 9])) return DARK
        // The last three columns lie off by it, in two steps.
        return glow(0.4 * Math.exp(c < 10 ? 0 : c === 10 ? -ln / 2 : -ln))
      }).region.width
    expect(width(0.335)).toBe(88)
    expect(width(0.365)).toBe(64)
  })

  test('in blocks whose red scatters by no more than 0.15 of itself', () => {
    const rough = (share: number) => {
      const image = picture((c, r) => (inBar(c, r) ? glow(0.4) : DARK))
      for (let y = 0; y < image.height; y++)
        for (let x = 0; x < image.width; x++) {
          const at = 3 * (y * image.width + x)
          if (image.codes[at]! > 0)
            image.codes[at] = encodeTransfer(0.4 * (1 + ((x + y) % 2 === 0 ? share : -share)))
        }
      return findGlow(image).kind
    }
    expect([0.145, 0.156].map(rough)).toEqual(['found', 'none'])
  })

  test('of four blocks at least, finer ones where there are less', () => {
    const one = (width: number) =>
      found((c, r) => (c >= 4 && c < 4 + width && r === 5 ? glow(0.3) : DARK))
    expect(one(4).region.x).toBe(36)
    // Half a block off: of 8 pixels, then of 4.
    expect(one(3).region.x).toBe(34)
  })

  test('not in what is no brighter than three tenths of the picture', () => {
    /** Rows of a wall above a red door. */
    const scene = (blocks: number) =>
      reason((c, r) =>
        r * COLUMNS + c < blocks ? [0.4, 0.4, 0.4] : inBar(c, r, [4, 6, 12, 12]) ? glow(0.3) : DARK,
      )
    expect(scene(Math.floor(0.3 * COLUMNS * ROWS))).toBeNull()
    expect(scene(Math.floor(0.3 * COLUMNS * ROWS) + 1)).toBe('lit scene')
  })
})

describe('clipped parts', () => {
  test('are left out with what touches them, and the glow beside them is told as such', () => {
    const { region, besideClipped } = found((c, r) =>
      inBar(c, r, [4, 3, 7, 9]) ? [1, 1, 1] : inBar(c, r, [7, 3, 14, 9]) ? glow(0.5) : DARK,
    )
    expect(besideClipped).toBe(true)
    expect(region.x).toBeGreaterThanOrEqual(64)
    expect(found((c, r) => (inBar(c, r) ? glow(0.3) : DARK)).besideClipped).toBe(false)
  })

  test.each([
    // A core in a bar from column 2 to 14, row 1 to 11; the larger piece beside it, off all of its edges.
    ['right', [10, 1, 14, 11], { x: 20, y: 12, width: 48, height: 72 }],
    ['left', [2, 1, 6, 11], { x: 60, y: 12, width: 48, height: 72 }],
    ['below', [2, 7, 14, 11], { x: 20, y: 12, width: 88, height: 32 }],
    ['above', [2, 1, 14, 5], { x: 20, y: 52, width: 88, height: 32 }],
  ] as const)('keep the region a block away, on the %s', (_, core, region) => {
    const seen = found((c, r) =>
      inBar(c, r, core) ? [1, 1, 1] : inBar(c, r, [2, 1, 14, 11]) ? glow(0.5) : DARK,
    )
    expect(seen.region).toEqual({ shape: 'rectangle', ...region })
  })

  test('keep corners of the region away as well', () => {
    // Cores at two corners: what is left between them is a column less at each.
    const size = (cores: readonly (readonly number[])[]) => {
      const { region } = found((c, r) =>
        cores.some(([u, v]) => u === c && v === r)
          ? [1, 1, 1]
          : inBar(c, r, [3, 3, 13, 9])
            ? glow(0.5)
            : DARK,
      )
      return [region.x, region.width, region.y, region.height]
    }
    expect(size([])).toEqual([28, 72, 28, 40])
    expect(size([[2, 2]])).toEqual([36, 64, 28, 40])
    expect(size([[13, 9]])).toEqual([28, 64, 28, 40])
    expect(size([[2, 9]])).toEqual([36, 64, 28, 40])
    expect(size([[13, 2]])).toEqual([28, 64, 28, 40])
  })

  test('a block is clipped from one pixel in twenty on', () => {
    const clipped = (pixels: number) => {
      const image = picture((c, r) => (inBar(c, r) ? glow(0.6) : DARK))
      // The first pixels of one block in the middle of the bar.
      for (let i = 0; i < pixels; i++) {
        const [x, y] = [7 * BLOCK + (i % BLOCK), 5 * BLOCK + Math.floor(i / BLOCK)]
        image.codes[3 * (y * image.width + x)] = 1
      }
      const result = findGlow(image)
      return result.kind === 'found' && result.besideClipped
    }
    expect(clipped(3)).toBe(false)
    expect(clipped(4)).toBe(true)
  })

  test('alone are said to be so, with as much else they are not', () => {
    const grey = (blocks: number) =>
      reason((c, r) =>
        inBar(c, r, [4, 3, 8, 6]) ? [1, 1, 1] : r === 9 && c < blocks ? [0.3, 0.3, 0.3] : DARK,
      )
    expect(grey(0)).toBe('all clipped')
    expect(grey(12)).toBe('all clipped')
    expect(grey(13)).toBe('no glow colour')
  })
})
