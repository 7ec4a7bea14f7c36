import { decode } from 'tiff'
import { expect, test } from 'vitest'
import { stateCode } from '../../../src/estimate/map/heat-map.ts'
import { mapChange } from '../../../src/estimate/map/map-change.ts'
import { cellAt } from '../../../src/estimate/map/profile.ts'
import { packedMap, storedMap } from '../../../src/session/log/stored-map.ts'
import { changeCsv, mapCsv, mapTiff } from '../../../src/session/map/map-files.ts'
import { madeMap } from './made-map.ts'

const made = madeMap()

test('a 16-bit TIFF is read by another program, with its scale in the description', () => {
  // Oracle: the tiff package.
  const [page] = decode(mapTiff(made.map))
  expect([page!.width, page!.height, page!.bitsPerSample]).toEqual([40, 20, 16])
  expect(page!.fields.get(270)).toContain('kelvin = value / 20')
  const values = page!.data as Uint16Array
  for (const at of [45, 410, 799])
    expect(values[at]! / 20).toBeCloseTo(made.map.temperatureK[at]!, 1)
  expect(values[0]).toBe(0)
})

test('the table has a line for each cell that glows and says why one was not read', () => {
  const lines = mapCsv(made.map).trimEnd().split('\r\n')
  expect(lines).toHaveLength(1 + 799)
  expect(lines[0]).toMatch(/^x_px,y_px,temperature_K/)
  expect(lines.some((line) => line.endsWith(',clipped'))).toBe(true)
})

test('a map that was stored comes back to a twentieth of a kelvin', () => {
  const back = storedMap(JSON.parse(JSON.stringify({ map: packedMap(made) })))!
  expect(back.evenness.withinK).toBe(made.evenness.withinK)
  for (let at = 0; at < 800; at++) {
    expect(back.map.state[at]).toBe(made.map.state[at])
    const [a, b] = [back.map.temperatureK[at]!, made.map.temperatureK[at]!]
    if (Number.isNaN(b)) expect(a).toBeNaN()
    else expect(Math.abs(a - b)).toBeLessThan(0.026)
  }
})

test.each([
  ['cells that unfold to something else', { columns: 41 }],
  ['no text of base64', { cells: '***' }],
  ['a hottest place outside', { evenness: { ...made.evenness, hottest: 900 } }],
  [
    'a table that does not rise',
    {
      scale: {
        ...made.map.scale,
        byRatio: { x: [1, 1, 1], overK: [0, 0, 0], leaningK: [0, 0, 0] },
      },
    },
  ],
])('a map from a file with %s is not shown', (_, change) => {
  const map = { ...packedMap(made), ...change }
  expect(storedMap(JSON.parse(JSON.stringify({ map })))).toBeNull()
})

test('readings without a map have none', () => {
  expect(storedMap({})).toBeNull()
  expect(storedMap(null)).toBeNull()
  expect(stateCode('read')).toBe(0)
})

test('a change as a table holds each cell that was read twice, with both uncertainties', () => {
  const [earlier, later] = [madeMap(), madeMap((at) => 1150 + 0.01 * at)].map(({ map }) => map)
  const found = mapChange(earlier!, later!, {
    differenceK: 12,
    standardUncertaintyK: 3,
    oneCamera: true,
  })
  if (found.kind !== 'change') throw new Error(found.kind)
  const [head, ...rows] = changeCsv(found).trimEnd().split('\r\n')
  expect(head).toBe('x_px,y_px,change_K,u_K,u_against_middle_K')
  expect(rows).toHaveLength(found.changeK.filter(Number.isFinite).length)
  const [x, y, change, u] = rows[0]!.split(',').map(Number)
  const at = cellAt(found, x!, y!)
  expect(change).toBeCloseTo(found.changeK[at]!, 2)
  expect(u).toBeCloseTo(found.standardUncertaintyK[at]!, 2)
})
