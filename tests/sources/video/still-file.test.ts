import { decode } from 'tiff'
import { expect, test } from 'vitest'
import { frameCodes } from '../../../src/light/live/frame-codes.ts'
import { findOrientation } from '../../../src/sources/files/exif-orientation.ts'
import { inspectPhoto } from '../../../src/sources/files/inspect.ts'
import { stillFile } from '../../../src/sources/video/still-file.ts'

const [WIDTH, HEIGHT] = [8, 6]
const bytes = Uint8Array.from({ length: 1.5 * WIDTH * HEIGHT }, (_, i) =>
  i < WIDTH * HEIGHT ? 60 + 2 * i : i % 2 ? 180 : 110,
)
const pixels = {
  format: 'I420',
  width: WIDTH,
  height: HEIGHT,
  bytes,
  planes: [
    { offset: 0, stride: WIDTH },
    { offset: WIDTH * HEIGHT, stride: WIDTH / 2 },
    { offset: 1.25 * WIDTH * HEIGHT, stride: WIDTH / 2 },
  ],
  colour: { matrix: 'bt709', fullRange: false },
} as const
const frame = { width: WIDTH, height: HEIGHT, copy: async () => pixels, close: () => undefined }

test('a paused frame as a photo file keeps its codes, its turn, and that its colour was halved', async () => {
  const bytesOf = async (rotation: number) =>
    new Uint8Array(await (await stillFile(frame, rotation, 'video avc 8x6')).arrayBuffer())
  const file = await bytesOf(0)
  // Oracle: the tiff package.
  const [page] = decode(file)
  const { codes } = frameCodes(pixels)
  const samples = page!.data as Uint16Array
  expect(samples).toHaveLength(3 * WIDTH * HEIGHT)
  for (let i = 0; i < samples.length; i++)
    expect(Math.abs(samples[i]! / 65535 - codes[i]!)).toBeLessThan(1e-5)
  expect(page!.fields.get(272)).toBe('video avc 8x6')
  // EXIF 2.32, 4.6.4: 6 is shown turned by 90 degrees clockwise.
  expect(findOrientation(await bytesOf(90))?.orientation).toBe(6)
  const header = inspectPhoto(file)
  expect(header).toMatchObject({
    kind: 'tiff',
    space: 'srgb',
    bitsPerSample: 16,
    subsampling: '4:2:0',
  })
})
