import { beforeEach, expect, test, vi } from 'vitest'
import { createBatchModel } from '../../../src/session/reading/batch-model.ts'
import type { Answer, Call } from '../../../src/sources/worker-calls.ts'
import { emptyKit } from '../kit/items.ts'

const facts = { make: null, model: null, whiteBalance: 'unknown', takenAt: null }
const info = { width: 8, height: 8, facts, notes: [], glow: { kind: 'none' } }
const OUTPUTS: Record<string, unknown> = {
  open: { preview: new Blob(), info },
  measure: { refused: true, findings: [] },
  marks: null,
}
/** How many of the next measurements fail. */
let failing = 0

/** A photo's worker that answers at once, as soon as workers can. */
class QuickWorker {
  onmessage: ((event: { data: Answer }) => void) | null = null
  postMessage({ id, name }: Call): void {
    const fails = !(name in OUTPUTS) || (name === 'measure' && failing-- > 0)
    const data = fails ? { id, failure: 'gone' } : { id, output: OUTPUTS[name] }
    setTimeout(() => this.onmessage?.({ data }))
  }
  terminate(): void {
    this.onmessage = null
  }
}

beforeEach(() => {
  failing = 0
  vi.stubGlobal('Worker', QuickWorker)
})

const kit = emptyKit()

/** A file of which the bytes come long after it was opened and measured. */
class SlowFile extends File {
  override async arrayBuffer(): Promise<ArrayBuffer> {
    await new Promise((resolve) => setTimeout(resolve, 20))
    return super.arrayBuffer()
  }
}

const kindsOf = async (files: readonly File[]) => {
  const batch = createBatchModel(files, kit)
  await expect.poll(() => batch.done.value).toBe(true)
  const kinds = batch.rows.value.map(({ state }) => state.kind)
  batch.dispose()
  return kinds
}

test('photos are read whose bytes are looked through only after they could be measured', async () => {
  const files = ['one.jpg', 'two.jpg'].map((name) => new SlowFile(['x'], name))
  expect(await kindsOf(files)).toEqual(['measured', 'measured'])
})

test('a photo that can no longer be measured is told, and the next one is read', async () => {
  failing = 1
  const files = ['one.jpg', 'two.jpg'].map((name) => new File(['x'], name))
  expect(await kindsOf(files)).toEqual(['failed', 'measured'])
})
