import { expect, test } from 'vitest'
import { liveFrame } from '../../../src/sources/live/frame-reader.ts'

/** A decoder's frame that says BT.709, as the decoder was told. */
const frame = (height: number) =>
  ({
    format: 'I420',
    visibleRect: { x: 0, y: 0, width: 16, height },
    colorSpace: { matrix: 'bt709', fullRange: false },
    allocationSize: () => 24,
    copyTo: async () => [],
    close: () => undefined,
  }) as unknown as VideoFrame

test.each([
  // BT.709 is the matrix of HD (ITU-R BT.709-6), BT.601 that of smaller pictures: common practice.
  ['a small stream that says no matrix', 480, null, 'smpte170m'],
  ['a large stream that says no matrix', 720, null, 'bt709'],
  ['a stream that says one', 480, 'bt2020-ncl', 'bt2020-ncl'],
  ['a camera, whose frames say it themselves', 480, undefined, 'bt709'],
] as const)('%s is read by its own matrix', async (_, height, said, matrix) => {
  const pixels = await liveFrame(frame(height), 'file', said)?.copy({
    left: 0,
    top: 0,
    right: 4,
    bottom: 4,
  })
  expect(pixels?.colour.matrix).toBe(matrix)
})
