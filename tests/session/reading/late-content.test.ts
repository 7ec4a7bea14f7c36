import { signal } from '@preact/signals'
import { expect, test, vi } from 'vitest'
import type { PhotoMeasurement } from '../../../src/light/measure-photo.ts'
import type { KitModel } from '../../../src/session/kit/kit-model.ts'
import { createBatchModel } from '../../../src/session/reading/batch-model.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'

const DARK = { refused: true, findings: [] } as unknown as PhotoMeasurement
const photo = {
  width: 8,
  height: 8,
  facts: { make: null, model: null, whiteBalance: 'unknown', takenAt: null },
  notes: [],
  proposal: null,
  measure: vi.fn(async () => DARK),
  marks: async () => null,
  regionPicture: async () => Promise.reject(new Error('none')),
  close: () => undefined,
} as unknown as Photo

vi.mock('../../../src/sources/open-picture.ts', () => ({ openPicture: async () => photo }))

const kit = {
  references: signal([]),
  curves: signal([]),
  earlierCurves: signal([]),
  cameras: signal([]),
  greys: signal([]),
  heats: signal([]),
  state: signal('ready'),
} as unknown as KitModel

/** A file of which the bytes come long after it was opened and measured. */
class SlowFile extends File {
  override async arrayBuffer(): Promise<ArrayBuffer> {
    await new Promise((resolve) => setTimeout(resolve, 20))
    return super.arrayBuffer()
  }
}

test('photos are read whose bytes are looked through only after they could be measured', async () => {
  const files = ['one.jpg', 'two.jpg'].map((name) => new SlowFile(['x'], name))
  const batch = createBatchModel(files, kit)
  await expect.poll(() => batch.done.value, { timeout: 1500 }).toBe(true)
  expect(batch.rows.value.map(({ state }) => state.kind)).toEqual(['measured', 'measured'])
  batch.dispose()
})

test('a photo that can no longer be measured is told, and the next one is read', async () => {
  vi.mocked(photo.measure).mockRejectedValueOnce(new Error('the worker has gone'))
  const files = ['one.jpg', 'two.jpg'].map((name) => new File(['x'], name))
  const batch = createBatchModel(files, kit)
  await expect.poll(() => batch.done.value, { timeout: 1500 }).toBe(true)
  expect(batch.rows.value.map(({ state }) => state.kind)).toEqual(['failed', 'measured'])
  batch.dispose()
})
