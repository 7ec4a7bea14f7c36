import { signal } from '@preact/signals'
import { afterEach, expect, it } from 'vitest'
import type { Reading } from '../../../src/log/schema/types.ts'
import { carriedReading } from '../../../src/session/carried-reading.ts'
import { ASKED, createRemainingModel } from '../../../src/session/check/remaining-model.ts'
import type { KitModel } from '../../../src/session/kit/kit-model.ts'
import { reading, seen } from '../../estimate/inputs.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'

afterEach(async () => {
  carriedReading.value = null
  await closeTestLogs()
})

it('begins with the open reading, before it is saved, and forgets it when none was asked about', async () => {
  const log = await openTestLog()
  const kit = { references: signal([]) } as unknown as KitModel
  carriedReading.value = {
    temperatureK: 1173,
    expandedUncertaintyK: 100,
    interval95K: [1073, 1273],
    object: '',
    href: '/',
    record: () => ({ inputs: reading(seen(1173)), recomputations: [] }) as unknown as Reading,
  }
  const shown = async (id: string) => {
    const model = createRemainingModel(Promise.resolve(log), kit, id)
    const keys = await new Promise<readonly string[]>((resolve) => {
      model.cameras.subscribe((found) => found && resolve(found.map(({ key }) => key)))
    })
    model.dispose()
    return { keys, chosen: model.key.value }
  }
  expect(await shown('open')).toEqual({ keys: [ASKED], chosen: ASKED })
  expect(await shown('')).toEqual({ keys: [], chosen: '' })
})
