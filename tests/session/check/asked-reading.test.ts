import { effect } from '@preact/signals'
import { afterEach, describe, expect, it } from 'vitest'
import type { NewReading } from '../../../src/log/schema/types.ts'
import { wholeReading } from '../../../src/log/schema/whole-reading.ts'
import { carriedReading, OPEN } from '../../../src/session/carried-reading.ts'
import { askedReading } from '../../../src/session/check/asked-reading.ts'
import {
  type ConsensusModel,
  createConsensusModel,
} from '../../../src/session/check/consensus-model.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'

afterEach(async () => {
  carriedReading.value = null
  await closeTestLogs()
})

/** Made up: a photo of a bar. */
const takenAt = { iso: '2026-03-14T12:00:00.000+00:00', zone: 'UTC' }
const draft: NewReading = {
  method: 'photo',
  object: 'bar',
  takenAt,
  result: {
    kind: 'temperature',
    temperatureK: 1173.123456789,
    standardUncertaintyK: 50,
    expandedUncertaintyK: 98,
    interval95K: [1080, 1276],
    budget: [{ term: 'camera', contributionK: 50, sharedBy: 'camera a' }],
    methodVersion: '1',
  },
}

function carry() {
  const savedAt = '2026-03-14T12:00:05.000Z'
  carriedReading.value = {
    temperatureK: 1173.123456789,
    expandedUncertaintyK: 98,
    interval95K: [1080, 1276],
    object: 'bar',
    href: '/',
    record: () => wholeReading(draft, { id: OPEN, savedAt, takenAt }),
  }
}

const rowsOf = (model: ConsensusModel) =>
  new Promise<readonly string[][]>((resolve) => {
    effect(() => {
      const rows = model.rows.value
      if (rows.length > 0) resolve(rows.map(({ ids }) => [...ids]))
    })
  })

describe('the reading that is asked about', () => {
  it('is the open one before it is saved, and the one of the log from then on', async () => {
    const log = await openTestLog()
    expect(await askedReading(log, OPEN)).toBeNull()
    carry()
    expect((await askedReading(log, OPEN))?.id).toBe(OPEN)
    const { id } = await log.add(draft)
    expect((await askedReading(log, OPEN))?.id).toBe(id)
    expect((await askedReading(log, id))?.id).toBe(id)
    expect(await askedReading(log, 'unknown')).toBeNull()
  })

  it('stands in the comparison, counted once when it is saved', async () => {
    const log = await openTestLog()
    carry()
    const before = createConsensusModel(Promise.resolve(log), OPEN)
    expect(await rowsOf(before)).toEqual([[OPEN]])
    before.dispose()
    const { id } = await log.add(draft)
    const after = createConsensusModel(Promise.resolve(log), OPEN)
    expect(await rowsOf(after)).toEqual([[id]])
    after.dispose()
  })
})
