import { afterEach, expect, test, vi } from 'vitest'
import { pictureAt } from '../../../src/sources/video/play-frames.ts'

afterEach(() => vi.unstubAllGlobals())

test('a film that breaks on the way to a picture is refused, not waited for', async () => {
  const element = {
    onloadeddata: () => {},
    onerror: () => {},
    error: { message: 'no data' },
    set src(_: string) {
      queueMicrotask(() => this.onloadeddata())
    },
    set currentTime(_: number) {
      queueMicrotask(() => this.onerror())
    },
    pause() {},
    load() {},
    removeAttribute() {},
  }
  vi.stubGlobal('document', { createElement: () => element })
  await expect(pictureAt(new Blob([]), 'avc', 9)).rejects.toMatchObject({
    refusal: { code: 'broken', where: 'no data' },
  })
})
