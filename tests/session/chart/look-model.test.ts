import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import type { KnownHeatReference } from '../../../src/estimate/types.ts'
import { createChartModel, steppedK } from '../../../src/session/chart/chart-model.ts'
import { knownCameras } from '../../../src/session/chart/look-model.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { salt } from '../../estimate/inputs.ts'
import { heatItem } from '../kit/items.ts'

const { id: _, name: __, ...SALT } = salt()
const heat = (id: string, change: Partial<KnownHeatReference> = {}, more = {}) =>
  heatItem(id, { ...SALT, cameraId: 'Made-up phone', ...change } as never, more)
const heatsOf = (...items: ReturnType<typeof heat>[]) => sortKit(items).heats

function chart(...items: ReturnType<typeof heat>[]) {
  const kit = { heats: signal(heatsOf(...items)), state: signal<unknown>('read') }
  const model = createChartModel(kit as never)
  return { kit, model }
}

describe('cameras whose view the chart can show', () => {
  test('are those with a known heat in use, by ordinary photos', () => {
    const heats = heatsOf(
      heat('salt'),
      heat('off', { cameraId: 'Old phone' }, { off: true }),
      heat('raw', { cameraId: 'Raw camera', channels: 'camera' }),
    )
    expect(knownCameras(heats).map(({ cameraId }) => cameraId)).toEqual(['Made-up phone'])
  })
})

describe('the view of a camera', () => {
  test('is worked out once the kit is read, only where it is looked at, and rests on the known heats', async () => {
    const { kit, model } = chart(heat('salt'), heat('off', {}, { off: true }))
    kit.state.value = 'reading'
    expect(model.looks.working.value).toBe(false)
    model.viewKind.value = 'camera'
    expect(model.looks.working.value).toBe(false)
    kit.state.value = 'read'
    expect(model.looks.working.value).toBe(true)
    await expect.poll(() => model.looks.look.value).not.toBeNull()
    expect(model.looks.working.value).toBe(false)
    expect(model.looks.look.value).toMatchObject({ cameraId: 'Made-up phone', heats: ['salt'] })
    const { low95K, high95K } = model.rangeAt(1200)!
    expect(low95K!).toBeLessThan(1200)
    expect(high95K!).toBeGreaterThan(1200)
    // Seen by eye again there is no such range; looked at again, it is not worked out anew.
    model.viewKind.value = 'dark-shop'
    expect(model.rangeAt(1200)).toBeNull()
    model.viewKind.value = 'camera'
    expect(model.looks.working.value).toBe(false)
    expect(model.rangeAt(1200)).not.toBeNull()
    model.dispose()
  })

  test('is that of the camera beside the chart while it runs, of the chosen one, or of a typical one', async () => {
    const { kit, model } = chart(heat('salt'), heat('of the stream', { cameraId: 'stream' }))
    const [first, second] = model.looks.cameras.value
    expect(model.looks.camera.value).toBe(first)
    model.looks.choice.value = second!.key
    expect(model.looks.camera.value).toBe(second)
    model.looks.choice.value = 'gone'
    expect(model.looks.camera.value).toBe(first)
    model.viewKind.value = 'camera'
    const { balanceState } = first!
    model.looks.live.value = { cameraId: 'stream', balanceState }
    await expect.poll(() => model.looks.look.value?.cameraId).toBe('stream')
    expect(model.looks.look.value?.heats).toEqual(['of the stream'])
    kit.heats.value = []
    expect(model.looks.camera.value).toBeNull()
    model.looks.live.value = null
    expect(model.looks.working.value).toBe(true)
    model.dispose()
  })
})

describe('colours of the chart', () => {
  test('begin to show at a higher temperature where there is light in the room', () => {
    const { model } = chart()
    const from = (['dark', 'dim', 'lit', 'shade'] as const).map((room) => {
      model.room.value = room
      return model.visibleFromK.value
    })
    expect(from).toEqual([...from].sort((a, b) => a - b))
    expect(new Set(from).size).toBe(4)
    model.dispose()
  })

  test('are brighter where it is hotter, and those of the surface that was stated', () => {
    const { model } = chart()
    const sum = (kelvin: number) =>
      model.swatchAt(kelvin).colour.codes.reduce((all, code) => all + code, 0)
    expect(sum(1400)).toBeGreaterThan(sum(1000))
    expect(model.strip.value).toBe(model.strip.value)
    const grey = model.strip.value
    model.materialId.value = 'copper-clean'
    expect(model.strip.value).not.toBe(grey)
    model.dispose()
  })

  test('in steps are those of the middle of each step, in the unit in use', () => {
    const celsius = (c: number) => c + 273.15
    for (const c of [800, 810, 849.9])
      expect(steppedK(celsius(c), 50, 'C')).toBeCloseTo(celsius(825), 6)
    expect(steppedK(celsius(850), 50, 'C')).toBeCloseTo(celsius(875), 6)
    expect(steppedK(celsius(799.9), 50, 'C')).toBeCloseTo(celsius(775), 6)
    expect(steppedK(1234.5, 0, 'C')).toBe(1234.5)
  })
})
