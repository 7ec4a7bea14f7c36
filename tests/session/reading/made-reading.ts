import { beforeEach, expect, vi } from 'vitest'
import { draftOf } from '../../../src/session/draft.ts'
import { createReadingModel } from '../../../src/session/reading/reading-model.ts'
import type { ReadingModel } from '../../../src/session/reading/reading-model-type.ts'
import { emptyKit } from '../kit/items.ts'
import { stubMadePhotos } from '../made-photos.ts'
import { memoryCaches } from '../memory-caches.ts'

export const TAKEN = { iso: '2026-05-04T10:00:00.000+02:00', zone: 'Europe/Vienna' }
export const underTest = draftOf('reading under test')
export const begun = () => createReadingModel(emptyKit(), underTest)
export const measured = (model: ReadingModel) =>
  expect.poll(() => model.measurement.value?.refused).toBeDefined()

/** Photos are read in the test's own process, and each test begins with nothing stored. */
export function readsMadePhotos(): void {
  beforeEach(() => {
    stubMadePhotos()
    vi.stubGlobal('navigator', {})
    vi.stubGlobal('caches', memoryCaches())
  })
}
