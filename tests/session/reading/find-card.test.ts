import { describe, expect, test } from 'vitest'
import type { Region } from '../../../src/light/image.ts'
import {
  findCard,
  firstCardFrame,
  frameAt,
  middleOf,
  placeIn,
} from '../../../src/session/reading/find-card.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'

const SIZE = { width: 400, height: 300 }
const FRAME: Region = { shape: 'rectangle', x: 200, y: 100, width: 40, height: 20 }

/** A photo in which a card can be measured where `isCard` says so; remembers what was looked at. */
function photo(isCard: (region: Region) => boolean, faulty?: (region: Region) => boolean) {
  const seen: Region[] = []
  const of = {
    ...SIZE,
    measureGrey: async (region: Region) => {
      seen.push(region)
      return {
        refused: !isCard(region),
        findings: faulty?.(region) ? [{ code: 'uneven' }] : [],
      }
    },
  } as unknown as Photo
  return { of, seen }
}

describe('a card in the picture', () => {
  test('lies where it lay, if it can be measured there', async () => {
    const { of, seen } = photo(() => true)
    expect(await findCard(of, FRAME)).toEqual(FRAME)
    expect(seen).toHaveLength(1)
  })

  test('is looked for around, the nearest places first', async () => {
    const { of, seen } = photo(({ x }) => x === 160)
    expect(await findCard(of, FRAME)).toMatchObject({ x: 160, y: 100 })
    const away = seen.map(({ x, y }) => Math.hypot((x - 200) / 40, (y - 100) / 20))
    expect(away).toEqual(away.toSorted((a, b) => a - b))
    expect(away[0]).toBe(0)
  })

  test('is not taken where it is faulty, nor farther away than its own size', async () => {
    const faulty = photo(
      () => true,
      ({ x, y }) => x === 200 && y === 100,
    )
    expect(await findCard(faulty.of, FRAME)).not.toEqual(FRAME)
    const none = photo(() => false)
    expect(await findCard(none.of, FRAME)).toBeNull()
    expect(none.seen).toHaveLength(25)
    for (const { x, y } of none.seen) {
      expect(Math.abs(x - 200)).toBeLessThanOrEqual(40)
      expect(Math.abs(y - 100)).toBeLessThanOrEqual(20)
    }
  })

  test('is no longer looked for once the photo is away', async () => {
    let asked = 0
    const of = {
      ...SIZE,
      measureGrey: async () => {
        asked++
        throw new Error('closed')
      },
    } as unknown as Photo
    expect(await findCard(of, FRAME)).toBeNull()
    expect(asked).toBe(1)
  })
})

describe('the place of a card', () => {
  test('holds in a picture of another size, there and back', () => {
    const place = placeIn(SIZE, FRAME)
    expect(frameAt(SIZE, place)).toEqual(FRAME)
    expect(frameAt({ width: 800, height: 600 }, place)).toEqual({
      shape: 'rectangle',
      x: 400,
      y: 200,
      width: 80,
      height: 40,
    })
  })

  test('has a middle half as large with the same centre', () => {
    expect(middleOf(SIZE, placeIn(SIZE, FRAME))).toEqual({
      shape: 'rectangle',
      x: 210,
      y: 105,
      width: 20,
      height: 10,
    })
  })

  test('begins small in the middle of the picture', () => {
    const { x, y, width, height } = firstCardFrame(SIZE as Photo)
    expect(x + width / 2).toBeCloseTo(200, 6)
    expect(y + height / 2).toBeCloseTo(150, 6)
    expect(width).toBeLessThan(SIZE.width / 4)
  })
})

test('wherever a card lies within its own size, a place that is tried is near enough', async () => {
  const none = photo(() => false)
  await findCard(none.of, FRAME)
  // Its middle half is measured: a quarter of its side may be missed.
  const missed: string[] = []
  for (let along = -40; along <= 40; along++)
    for (let across = -20; across <= 20; across++)
      if (
        !none.seen.some(
          ({ x, y }) => Math.abs(x - 200 - along) <= 10 && Math.abs(y - 100 - across) <= 5,
        )
      )
        missed.push(`${along} along, ${across} across`)
  expect(missed).toEqual([])
})
