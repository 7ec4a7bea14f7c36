import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import { createMapModel } from '../../../src/session/reading/map-model.ts'
import type { MapBench } from '../../../src/sources/map/map-client.ts'

type Reading = Parameters<typeof createMapModel>[0]
type Made = Awaited<ReturnType<MapBench['make']>>

/** A reading of a photo whose maps are made when the test says so. */
function mapped() {
  const asked: { resolve: (made: Made) => void; reject: (error: unknown) => void }[] = []
  const bench = {
    make: () => new Promise<Made>((resolve, reject) => asked.push({ resolve, reject })),
    close: () => undefined,
  } as unknown as MapBench
  const estimate = signal({ kind: 'temperature' })
  const reading = {
    glow: { photo: signal({ cells: async () => ({}) }) },
    measurement: signal({ region: {}, background: null }),
    input: signal({}),
    estimate,
    curve: signal({}),
    map: signal(null),
  } as unknown as Reading
  const model = createMapModel(reading, () => bench)
  const again = () => {
    estimate.value = { ...estimate.peek() }
  }
  const settled = () => new Promise((resolve) => setTimeout(resolve, 0))
  return { asked, model, again, settled }
}

const MAP = { map: 'of the later' } as unknown as NonNullable<Made>

test('a map that failed is said; one that a later call has replaced, or that was put away, is not', async () => {
  const { asked, model, again, settled } = mapped()
  await settled()
  again()
  await settled()
  asked[0]!.reject(new Error('of the former'))
  await settled()
  expect(model.state.value).toEqual({ kind: 'waiting' })
  asked[1]!.resolve(MAP)
  await settled()
  expect(model.state.value).toEqual({ kind: 'made', ...MAP })
  again()
  await settled()
  asked[2]!.reject(new DOMException('put away', 'AbortError'))
  await settled()
  expect(model.state.value).toEqual({ kind: 'made', ...MAP })
  again()
  await settled()
  const error = new Error('no memory')
  asked[3]!.reject(error)
  await settled()
  expect(model.state.value).toEqual({ kind: 'failed', error })
  model.dispose()
})

test('a map that comes after its reading has changed is not shown for the new one', async () => {
  const { asked, model, again, settled } = mapped()
  await settled()
  again()
  await settled()
  asked[0]!.resolve(MAP)
  await settled()
  expect(model.state.value).toEqual({ kind: 'waiting' })
  asked[1]!.resolve(null)
  await settled()
  expect(model.state.value).toEqual({ kind: 'none' })
  model.dispose()
})
