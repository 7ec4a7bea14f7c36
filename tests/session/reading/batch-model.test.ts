import { afterEach, beforeEach, expect, test } from 'vitest'
import { createBatchModel } from '../../../src/session/reading/batch-model.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { emptyKit } from '../kit/items.ts'
import { madePhoto, openWorkers, PHONE, stubMadePhotos } from '../made-photos.ts'

beforeEach(stubMadePhotos)
afterEach(closeTestLogs)

const NOW = new Date('2026-05-04T10:00:00Z')
const FILES = [
  madePhoto({ temperatureK: 1200, facts: { ...PHONE, takenAt: '2026-05-04T08:00:00Z' } }, 'a.jpg'),
  madePhoto({ temperatureK: null }, 'dark.jpg'),
  new File(['none'], 'list.txt'),
  madePhoto({ temperatureK: 1400, facts: PHONE }, 'b.jpg'),
]

test('several photos are read each for itself; those with a figure are saved, once', async () => {
  const batch = createBatchModel(FILES, emptyKit())
  expect(batch.rows.value.map(({ state }) => state.kind)).toEqual(new Array(4).fill('waiting'))
  await expect.poll(() => batch.done.value).toBe(true)
  const kinds = () =>
    batch.rows.value.map(({ state }) =>
      state.kind === 'measured' ? state.estimate.kind : state.kind,
    )
  expect(kinds()).toEqual(['temperature', 'no number', 'failed', 'temperature'])
  expect(openWorkers()).toBe(0)

  const figure = (at: number) => {
    const { state } = batch.rows.value[at]!
    if (state.kind !== 'measured' || state.estimate.kind !== 'temperature') throw new Error('none')
    return state.estimate
  }
  const before = figure(0)
  batch.materialId.value = 'cavity'
  batch.object.value = ' kiln shelf '
  // What is said of the surface of all makes each surer.
  expect(figure(0).standardUncertaintyK).toBeLessThan(before.standardUncertaintyK)

  const log = await openTestLog()
  expect(await batch.save(log, NOW)).toBe(2)
  const ids = batch.rows.value.map(({ savedAs }) => savedAs)
  expect(ids.map((id) => id !== null)).toEqual([true, false, false, true])
  const stored = await log.get(ids[0]!)
  expect(stored).toMatchObject({
    state: 'sound',
    reading: {
      method: 'photo',
      object: 'kiln shelf',
      material: 'cavity',
      takenAt: { iso: '2026-05-04T08:00:00Z' },
      result: { kind: 'temperature', temperatureK: figure(0).temperatureK },
      simulated: false,
    },
  })
  expect(await batch.save(log, NOW)).toBe(0)
  expect(await log.count()).toBe(2)
  batch.dispose()
  expect(batch.rows.value).toEqual([])
})
