import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { findGlow } from '../../src/light/find-glow.ts'
import { connectedParts, largestRectangle } from '../../src/light/grid.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { barScene, picture, type Scene } from './pictures.ts'

const GLOW = [0.5, 0.05, 0.006] as const
const DARK = [0.001, 0.001, 0.001] as const

const within = (
  inner: { x: number; y: number; width: number; height: number },
  outer: typeof inner,
) =>
  inner.x >= outer.x &&
  inner.y >= outer.y &&
  inner.x + inner.width <= outer.x + outer.width &&
  inner.y + inner.height <= outer.y + outer.height

describe('the glow is found', () => {
  it('inside a bar, well inside its edges, and large', () => {
    const bar = { x: 100, y: 90, width: 200, height: 60 }
    const found = findGlow(picture(400, 240, barScene(GLOW, bar)))
    expect(found.kind).toBe('found')
    if (found.kind !== 'found') return
    expect(within(found.region, bar)).toBe(true)
    expect(found.region.width * found.region.height).toBeGreaterThan(0.5 * 200 * 60)
    expect(Math.abs(found.greenOverRed / 0.1 - 1)).toBeLessThan(0.05)
  })

  it('beside a clipped core, not in its halo', () => {
    // A bar white-hot at its left end; a halo of its light falls off all around.
    const scene: Scene = (x, y) => {
      const halo = 0.4 * Math.exp(-Math.hypot(Math.max(60 - x, x - 160, 0), y - 120) / 25)
      const inBar = x >= 60 && x < 340 && y >= 100 && y < 140
      if (!inBar) return [halo, 0.25 * halo, 0.03 * halo]
      return x < 160 ? [2.5, 0.9, 0.2] : x < 176 ? [1.2, 0.2, 0.05] : GLOW
    }
    const found = findGlow(picture(400, 240, scene))
    expect(found.kind).toBe('found')
    if (found.kind !== 'found') return
    expect(within(found.region, { x: 176, y: 100, width: 164, height: 40 })).toBe(true)
    expect(found.besideClipped).toBe(true)
  })

  it('rather than a lamp or a lit grey card in the same picture', () => {
    const scene: Scene = (x, y) => {
      if (Math.hypot(x - 60, y - 50) < 30) return [3, 2.6, 1.9] // lamp
      if (x > 300 && x < 380 && y > 20 && y < 90) return [0.5, 0.5, 0.5] // card
      return barScene(GLOW, { x: 120, y: 140, width: 180, height: 40 }, DARK)(x, y)
    }
    const found = findGlow(picture(400, 240, scene))
    expect(found.kind).toBe('found')
    if (found.kind !== 'found') return
    expect(within(found.region, { x: 120, y: 140, width: 180, height: 40 })).toBe(true)
  })

  it('on a thin wire', () => {
    const wire = { x: 40, y: 101, width: 320, height: 6 }
    const found = findGlow(picture(400, 240, barScene(GLOW, wire)))
    expect(found.kind).toBe('found')
    if (found.kind === 'found') expect(within(found.region, wire)).toBe(true)
  })

  it('when green is at the floor: a dull red is a glow', () => {
    const bar = { x: 100, y: 90, width: 200, height: 60 }
    expect(findGlow(picture(400, 240, barScene([0.3, 0, 0], bar))).kind).toBe('found')
  })
})

describe('no glow is found', () => {
  const reasonOf = (scene: Scene, width = 400, height = 240) => {
    const found = findGlow(picture(width, height, scene))
    return found.kind === 'none' ? found.reason : `found at ${JSON.stringify(found.region)}`
  }

  it('in a black picture', () => expect(reasonOf(() => DARK)).toBe('all black'))
  it('where all of it is clipped', () => {
    expect(reasonOf(barScene([4, 1.5, 1.1], { x: 50, y: 50, width: 200, height: 100 }))).toBe(
      'all clipped',
    )
  })

  /** Linear sRGB of the 24-patch chart's natural colours, rounded (common practice). */
  const DAYLIGHT: readonly Triple[] = [
    [0.17, 0.08, 0.05], // dark skin
    [0.55, 0.3, 0.22], // light skin
    [0.12, 0.2, 0.34], // sky
    [0.1, 0.15, 0.05], // foliage
    [0.4, 0.22, 0.11], // wood
    [0.32, 0.12, 0.07], // brick
    [0.6, 0.58, 0.52], // paper
    [0.2, 0.2, 0.2], // grey
  ]

  it('in a daylight scene of skin, wood, brick, sky and paper', () => {
    const scene: Scene = (x, y) => DAYLIGHT[(Math.floor(x / 50) + 3 * Math.floor(y / 40)) % 8]!
    expect(reasonOf(scene)).toBe('no glow colour')
  })

  it('in a red door among brighter walls', () => {
    const scene: Scene = (x, y) =>
      x > 150 && x < 250 && y > 60 ? [0.4, 0.03, 0.015] : [0.55, 0.53, 0.5]
    expect(reasonOf(scene)).toBe('lit scene')
  })

  it('in pictures of no or hardly any pixels', () => {
    expect(reasonOf(() => GLOW, 0, 0)).toBe('all black')
    expect(reasonOf(() => GLOW, 1, 1)).toBe('all black')
  })
})

describe('the grid beneath', () => {
  it('finds the largest rectangle as trying all of them does', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 1, max: 7 }),
        fc.integer({ min: 1, max: 7 }),
        fc.infiniteStream(fc.boolean()),
        (columns, rows, stream) => {
          const cells = Uint8Array.from({ length: columns * rows }, () =>
            stream.next().value ? 1 : 0,
          )
          let best = 0
          for (let y = 0; y < rows; y++)
            for (let x = 0; x < columns; x++)
              for (let h = 1; y + h <= rows; h++)
                for (let w = 1; x + w <= columns; w++) {
                  let full = true
                  for (let j = y; j < y + h; j++)
                    for (let i = x; i < x + w; i++) full &&= cells[j * columns + i] === 1
                  if (full) best = Math.max(best, w * h)
                }
          const found = largestRectangle(columns, rows, cells)
          expect(found.width * found.height).toBe(best)
          for (let j = found.y; j < found.y + found.height; j++)
            for (let i = found.x; i < found.x + found.width; i++)
              expect(cells[j * columns + i]).toBe(1)
        },
      ),
    )
  })

  it('puts every cell that is in into exactly one part', () => {
    fc.assert(
      fc.property(fc.array(fc.boolean(), { minLength: 30, maxLength: 30 }), (cells) => {
        const parts = connectedParts(
          6,
          5,
          (c) => cells[c]!,
          () => true,
        )
        const all = parts.flat().sort((a, b) => a - b)
        expect(all).toEqual(cells.flatMap((c, i) => (c ? [i] : [])))
      }),
    )
  })
})
