import { describe, expect, test } from 'vitest'
import { blockSide, drawMarks, scanFlags } from '../../../src/sources/photo/marks.ts'
import { madeSource } from './made-source.ts'

const levels = {
  codes: [254.5 / 255, 254.5 / 255, 254.5 / 255],
  plateau: [false, false, false],
} as const

async function marksOf(
  width: number,
  height: number,
  pixel: (x: number, y: number) => readonly number[],
  block: number,
  of: Parameters<typeof scanFlags>[2] = levels,
) {
  const flags = await scanFlags(madeSource(width, height, pixel), block, of)
  const marks = drawMarks(flags)
  const places: string[] = []
  for (let i = 0; marks !== null && i < marks.length / 4; i++) {
    if (marks[4 * i + 3]! > 0) places.push(`${i % flags.columns},${Math.floor(i / flags.columns)}`)
  }
  return { marks, places, columns: flags.columns, rows: flags.rows }
}

describe('marks over the picture', () => {
  test('the blocks shrink a picture to the length asked for', () => {
    expect(blockSide(4032, 3024, 1600)).toBe(3)
    expect(blockSide(1600, 1200, 1600)).toBe(1)
    expect(blockSide(1200, 1601, 1600)).toBe(2)
  })

  test('one clipped pixel anywhere marks its block, cut blocks at the edges included', async () => {
    for (const [x, y] of [
      [0, 0],
      [10, 7],
      [400, 2],
      [7, 300],
      [400, 300],
    ] as const) {
      for (const channel of [0, 1, 2]) {
        const { places } = await marksOf(
          401,
          301,
          (px, py) => [0, 1, 2].map((c) => (px === x && py === y && c === channel ? 255 : 100)),
          3,
        )
        expect(places).toEqual([`${Math.floor(x / 3)},${Math.floor(y / 3)}`])
      }
    }
  })

  test('a plateau below the top code counts as clipped, the code below it does not', async () => {
    const plateau = { codes: [248.5 / 255, 1, 1], plateau: [true, false, false] } as const
    const at = async (code: number) =>
      (await marksOf(4, 4, () => [code, 50, 50], 2, plateau)).places.length
    expect(await at(249)).toBe(4)
    expect(await at(248)).toBe(0)
  })

  test('a channel at 0 is marked where there is light, and not in the black around it', async () => {
    const floor = await marksOf(60, 60, (x) => (x < 30 ? [120, 10, 0] : [0, 0, 0]), 1)
    expect(floor.places.length).toBeGreaterThan(50)
    expect(floor.places.every((place) => Number(place.split(',')[0]) < 30)).toBe(true)
    expect((await marksOf(60, 60, () => [120, 10, 1], 1)).marks).toBeNull()
  })

  test('other calls get their turn between strips', async () => {
    let pauses = 0
    await scanFlags(
      madeSource(2000, 1000, () => [9, 9, 9]),
      2,
      levels,
      async () => {
        pauses++
      },
    )
    expect(pauses).toBeGreaterThan(3)
  })
})
