import { describe, expect, test } from 'vitest'
import { edgeReach } from '../../../src/light/map/edge-reach.ts'
import { seeded } from '../../accuracy/random.ts'

const COLUMNS = 120
const ROWS = 60
const SIDE = 2
const MARGIN = 4
const NOISE = 0.01

/** A glow whose outline is its left border: rough up to a depth, then noise alone. */
function map({
  roughTo,
  rough = 4,
  rows = ROWS,
  columns = COLUMNS,
}: {
  roughTo: number
  rough?: number
  rows?: number
  columns?: number
}) {
  const random = seeded(3)
  const cells = columns * rows
  const depth = Float32Array.from({ length: cells }, (_, at) => MARGIN + SIDE * (at % columns))
  const lnRatio = depth.map(
    (at) => -0.5 + NOISE * (at < MARGIN + roughTo ? rough : 1) * random.normal(),
  )
  return edgeReach(lnRatio, new Float32Array(cells).fill(NOISE), depth, columns, SIDE, MARGIN)
}

describe('the reach of an outline', () => {
  test('is the least margin where the colour is as calm there as inside', () => {
    expect(map({ roughTo: 0 })).toBe(MARGIN)
    // Within what noise scatters by.
    expect(map({ roughTo: 8, rough: 1.15, rows: 600, columns: 40 })).toBe(MARGIN)
  })

  test.each([4, 8, 16])('is as deep as the colour is rough: %d pixels', (roughTo) => {
    expect(map({ roughTo })).toBeGreaterThanOrEqual(MARGIN + roughTo)
    // A second difference takes in one cell to either side.
    expect(map({ roughTo })).toBeLessThanOrEqual(MARGIN + roughTo + SIDE)
  })

  test('gives up no more than three fifths of a thin glow', () => {
    const columns = 10
    const deepest = MARGIN + SIDE * (columns - 1)
    expect(map({ roughTo: 12, columns, rows: 300 })).toBeLessThanOrEqual(0.6 * deepest)
  })

  test('is the least margin where too few cells were read', () => {
    expect(map({ roughTo: 16, rows: 5 })).toBe(MARGIN)
    const none = new Float32Array(400).fill(Number.NaN)
    expect(edgeReach(none, none, none, 20, SIDE, MARGIN)).toBe(MARGIN)
  })

  test('does not take dark ends for an edge: roughness counts in units of the noise', () => {
    const random = seeded(5)
    const depth = Float32Array.from(
      { length: COLUMNS * ROWS },
      (_, at) => MARGIN + SIDE * (at % COLUMNS),
    )
    const noise = depth.map((at) => NOISE * (1 + 4 * Math.max(0, 1 - (at - MARGIN) / 60)))
    const lnRatio = noise.map((own) => own * random.normal())
    expect(edgeReach(lnRatio, noise, depth, COLUMNS, SIDE, MARGIN)).toBeLessThanOrEqual(
      MARGIN + SIDE,
    )
    const even = new Float32Array(noise.length).fill(NOISE)
    expect(edgeReach(lnRatio, even, depth, COLUMNS, SIDE, MARGIN)).toBeGreaterThan(MARGIN + SIDE)
  })
})
