import { signal } from '@preact/signals'
import { afterEach, expect, it } from 'vitest'
import type { Reading } from '../../../src/log/schema/types.ts'
import { carriedReading } from '../../../src/session/carried-reading.ts'
import { ASKED, createRemainingModel } from '../../../src/session/check/remaining-model.ts'
import type { KitModel } from '../../../src/session/kit/kit-model.ts'
import { reading, salt, seen } from '../../estimate/inputs.ts'
import { closeTestLogs, draft, openTestLog } from '../../log/opening.ts'

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

it('offers every camera of the log and of the kit, each once, and begins with the asked reading', async () => {
  const log = await openTestLog()
  const add = (cameraId: string, change: object = {}) =>
    log.add(draft({ inputs: reading(seen(1200), { cameraId }) as never, ...change }))
  const one = await add('first phone')
  await add('first phone')
  await add('second phone')
  await add('practice', { method: 'practice', simulated: true })
  await add('typed', { method: 'by hand' })
  const kit = {
    references: signal([salt(0, { cameraId: 'kit phone' }), salt(0, { cameraId: 'first phone' })]),
  } as unknown as KitModel
  const shown = async (id: string) => {
    const model = createRemainingModel(Promise.resolve(log), kit, id)
    await expect.poll(() => model.cameras.value).not.toBeNull()
    const { key } = model
    const cameras = model.cameras.value!.map(({ cameraId }) => cameraId)
    model.dispose()
    return { cameras, key: key.value }
  }
  expect((await shown('')).cameras.sort()).toEqual(['first phone', 'kit phone', 'second phone'])
  const asked = await shown(one.id)
  expect(asked.key).toBe(ASKED)
  expect(asked.cameras[0]).toBe('first phone')
})

it('works out each camera from dark red to yellow, and nothing for one that was put away', async () => {
  const log = await openTestLog()
  const add = (change: object) => log.add(draft({ inputs: reading(seen(1200), change) as never }))
  await add({ cameraId: 'phone' })
  await add({ cameraId: 'phone', balanceState: { kind: 'automatic', colourTemperatureK: null } })
  const references = signal([salt(0), salt(0, { cameraId: 'phone with a melt only' })])
  const kit = { references } as unknown as KitModel
  const model = createRemainingModel(Promise.resolve(log), kit)
  expect(model.cameras.value).toBeNull()
  await expect.poll(() => model.columns.value).not.toBeNull()
  const celsius = model.columns.value!.map(({ temperatureK }) => Math.round(temperatureK - 273.15))
  expect(celsius).toEqual([700, 900, 1100, 1300])
  // One camera in two states of its white balance is two; each has all known heats of the kit.
  const [newest, locked, fromKit] = model.cameras.value!
  expect(newest!.like.balanceState.kind).toBe('automatic')
  expect(locked!.like.balanceState.kind).toBe('daylight')
  expect(locked!.like.references).toHaveLength(2)
  expect(fromKit!.like).toMatchObject({
    glow: salt(0).glow,
    window: null,
    takenAt: salt(0).takenAt,
  })
  expect(model.columns.value![0]!.after.map(({ step }) => step)).toContain('lock')
  expect(model.failure.value).toBeNull()
  // Put away while it works: nothing comes any more.
  model.key.value = locked!.key
  expect(model.columns.value).toBeNull()
  model.dispose()
  await new Promise((resolve) => setTimeout(resolve, 50))
  expect(model.columns.value).toBeNull()
})

it('says what the log refused', async () => {
  const refused = new Error('refused')
  const kit = { references: signal([]) } as unknown as KitModel
  const model = createRemainingModel(Promise.reject(refused), kit)
  await expect.poll(() => model.failure.value).toBe(refused)
  model.dispose()
})
