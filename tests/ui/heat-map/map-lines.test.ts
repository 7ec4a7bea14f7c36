import { expect, test } from 'vitest'
import {
  lineLength,
  nextCorner,
  withCorner,
  withNearestAt,
  withoutCorner,
} from '../../../src/ui/heat-map/map-lines.ts'

const line = {
  points: [
    { x: 0, y: 0 },
    { x: 30, y: 0 },
    { x: 30, y: 40 },
  ],
  corner: 0,
}

test('a corner comes into the middle of the longest leg and can be taken out again', () => {
  const more = withCorner(line)
  expect(more.points[2]).toEqual({ x: 30, y: 20 })
  expect(more.corner).toBe(2)
  expect(lineLength(more)).toBe(lineLength(line))
  expect(withoutCorner(more).points).toEqual(line.points)
})

test('a line keeps two corners', () => {
  const two = withoutCorner(withoutCorner(line))
  expect(two.points).toHaveLength(2)
  expect(withoutCorner(two)).toEqual(two)
})

test('the nearest corner goes to a tapped place, and is the one that keys move next', () => {
  const moved = withNearestAt(line, { x: 28, y: 50 })
  expect(moved.points[2]).toEqual({ x: 28, y: 50 })
  expect(moved.corner).toBe(2)
  expect(nextCorner(moved).corner).toBe(0)
})
