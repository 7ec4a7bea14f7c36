import { signal } from '@preact/signals'
import { expect } from 'vitest'
import type { KitItem } from '../../../src/log/schema/types.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import type { SpectrumModel } from '../../../src/session/spectrum/model-types.ts'
import { createSpectrumModel } from '../../../src/session/spectrum/spectrum-model.ts'
import { directBench, memoryDraft } from './direct-bench.ts'

/** A model with the practice spectra taken up and read. */

export const started = (
  items: readonly KitItem[] = [],
  draft = memoryDraft(),
  bench = directBench(),
): SpectrumModel => createSpectrumModel(signal(sortKit(items).responses), bench, draft)

export async function practised(model = started()): Promise<SpectrumModel> {
  await model.practice()
  await expect.poll(() => model.measured.value?.result.ok).toBe(true)
  return model
}

export function temperatureOf(model: SpectrumModel) {
  const result = model.measured.value?.result
  if (!result?.ok) throw new Error('no temperature')
  return result
}
