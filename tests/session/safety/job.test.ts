import * as v from 'valibot'
import { describe, expect, test } from 'vitest'
import {
  isTicked,
  newJob,
  type OpenJob,
  openJob,
  ownChecks,
  tick,
} from '../../../src/session/safety/job.ts'

const START = new Date('2026-03-01T10:00:00.000Z')
const many = <Of>(count: number, of: Of): Of[] => new Array<Of>(count).fill(of)

test('a check is ticked with its time, and the tick is taken off again', () => {
  const job = newJob('forge', START)
  const done = tick(job, 'ticked', 'gloves', START)
  expect(done.ticked).toEqual([{ id: 'gloves', at: START.toISOString() }])
  expect(isTicked(done, 'ticked', 'gloves')).toBe(true)
  expect(isTicked(done, 'closed', 'gloves')).toBe(false)
  expect(tick(done, 'ticked', 'gloves', START)).toEqual(job)
  expect(tick(done, 'ticked', 'water', START).ticked.map(({ id }) => id)).toEqual([
    'gloves',
    'water',
  ])
})

describe('what the device has kept of a job is taken up within what a job can be', () => {
  const job = (change: Partial<OpenJob>) => v.is(openJob, { ...newJob('forge', START), ...change })
  const done = (id: string) => ({ id, at: START.toISOString() })

  test('its checks', () => {
    for (const list of ['ticked', 'closed'] as const)
      expect([
        job({ [list]: many(100, done('a')) }),
        job({ [list]: many(101, done('a')) }),
      ]).toEqual([true, false])
    const named = (length: number) => job({ ticked: [done('x'.repeat(length))] })
    expect([named(400), named(401)]).toEqual([true, false])
  })

  test('its time', () => {
    const from = (length: number) =>
      job({ startedAt: `2026-03-01T10:00:00.${'0'.repeat(length - 21)}Z` })
    expect([from(40), from(41)]).toEqual([true, false])
    expect(job({ startedAt: 'today' })).toBe(false)
  })

  test('the person’s own checks', () => {
    const own = (count: number) =>
      v.is(ownChecks, many(count, { kind: 'kiln', id: 'a', text: 'Vent open' }))
    expect([own(100), own(101)]).toEqual([true, false])
  })
})
