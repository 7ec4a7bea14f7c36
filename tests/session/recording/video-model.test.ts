import { signal } from '@preact/signals'
import { expect, test } from 'vitest'
import { createVideoModel } from '../../../src/session/recording/video-model.ts'
import type { VideoBench } from '../../../src/sources/video/video-client.ts'
import type { VideoFacts } from '../../../src/sources/video/video-operations.ts'

const FACTS = { codec: 'avc', width: 64, height: 36, decodable: false } as VideoFacts
const FILM = new File([], 'melt.mp4')

/** A model over a bench that knows one film, and what each bench was opened with. */
function made(still: Blob | null) {
  const opened: (VideoFacts | null)[] = []
  const bench = {
    facts: async () => FACTS,
    preview: async () => null,
    still: async () => still,
    close: () => undefined,
  } as unknown as VideoBench
  const kit = { references: signal([]), curves: signal([]), cameras: signal([]) }
  const model = createVideoModel(new Promise(() => undefined), kit, (known) => {
    opened.push(known)
    return bench
  })
  return { model, opened }
}

test('a film that was stopped is still known to be played, not decoded', async () => {
  const { model, opened } = made(new Blob(['picture']))
  await model.open(FILM)
  model.cancel()
  expect((await model.still())?.name).toBe('melt 0.0 s.tif')
  expect(opened).toEqual([null, FACTS])
})

test('a picture that cannot be decoded is said', async () => {
  const { model } = made(null)
  await model.open(FILM)
  expect(await model.still()).toBeNull()
  expect(model.failure.value).toMatchObject({ refusal: { code: 'codec', codec: 'avc' } })
})
