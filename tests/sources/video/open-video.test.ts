import {
  BufferTarget,
  EncodedPacket,
  EncodedVideoPacketSource,
  Mp4OutputFormat,
  Output,
  WebMOutputFormat,
} from 'mediabunny'
import { describe, expect, test } from 'vitest'
import { openVideo } from '../../../src/sources/video/open-video.ts'

/** The first bytes of a VP9 key frame (VP9 bitstream specification, 6.2): nothing here decodes it. */
const KEY_FRAME = Uint8Array.of(0x82, 0x49, 0x83, 0x42, 0, 0, 0, 0)

/** An AVC decoder configuration (ISO/IEC 14496-15, 5.3.3) of 64 x 36 that says no matrix: by libx264. */
const UNSAID_AVC = Uint8Array.from(
  '0142c00affe100166742c00ada11fe7c0440000003004000000c83c489a801000568ce0f2c80'.match(/../g)!,
  (byte) => Number.parseInt(byte, 16),
)

interface Made {
  readonly container: 'mp4' | 'webm'
  readonly codec?: 'vp9' | 'avc'
  readonly colour?: VideoColorSpaceInit
  readonly rotation?: 0 | 90 | 180 | 270
  /** Times of the frames, s. */
  readonly times?: readonly number[]
}

/** A film of 64 x 36 that has headers alone. */
async function made({
  container,
  codec = 'vp9',
  colour,
  rotation = 0,
  times = [0, 0.1, 0.2],
}: Made) {
  const target = new BufferTarget()
  const format = container === 'mp4' ? new Mp4OutputFormat() : new WebMOutputFormat()
  const output = new Output({ format, target })
  const source = new EncodedVideoPacketSource(codec)
  output.addVideoTrack(source, { rotation })
  await output.start()
  const decoderConfig = {
    ...(codec === 'avc'
      ? { codec: 'avc1.42c00a', description: UNSAID_AVC }
      : { codec: 'vp09.00.10.08' }),
    codedWidth: 64,
    codedHeight: 36,
    ...(colour ? { colorSpace: colour } : {}),
  }
  for (const [n, time] of times.entries()) {
    const lasts = (times[n + 1] ?? time + 0.1) - time
    await source.add(new EncodedPacket(KEY_FRAME, 'key', time, lasts), { decoderConfig })
  }
  await output.finalize()
  return new Blob([target.buffer!])
}

describe.each([
  ['mp4', 1.5],
  // No block but the last says how long it is shown: the film ends where that begins.
  ['webm', 1.4],
] as const)('the header of a film in %s', (container, seconds) => {
  test.each([
    ['pq', 'pq'],
    ['hlg', 'hlg'],
  ] as const)('of high dynamic range (%s) is refused by its name', async (transfer, name) => {
    const colour: object = { primaries: 'bt2020', matrix: 'bt2020-ncl', transfer, fullRange: false }
    await expect(made({ container, colour }).then(openVideo)).rejects.toMatchObject({
      refusal: { code: 'hdr', transfer: name },
    })
  })

  test('tells matrix, range, primaries and transfer as it says them', async () => {
    const colour = {
      primaries: 'smpte170m',
      matrix: 'smpte170m',
      transfer: 'smpte170m',
      fullRange: true,
    } as const
    const said = await openVideo(await made({ container, colour }))
    expect(said.facts.colour).toEqual(colour)
    said.close()
  })

  test('tells the mean rate where frames come unevenly, and how long it lasts', async () => {
    // As phones in the dark: 10 a second, then 5.
    const times = [0, 0.1, 0.2, 0.3, 0.4, 0.6, 0.8, 1, 1.2, 1.4]
    const { facts, close } = await openVideo(await made({ container, times }))
    expect(facts.durationSeconds).toBeCloseTo(seconds, 2)
    expect(facts.frameRate).toBeCloseTo(10 / seconds, 1)
    close()
  })
})

test('a film that says no matrix is known to say none', async () => {
  const { facts, close } = await openVideo(await made({ container: 'mp4', codec: 'avc' }))
  expect(facts.colour).toMatchObject({ matrix: null, primaries: null, transfer: null })
  close()
})

test.each([
  [0, 64, 36],
  [90, 36, 64],
  [270, 36, 64],
] as const)(
  'a film turned by %d degrees is as large as it is shown',
  async (rotation, width, height) => {
    const { facts, close } = await openVideo(await made({ container: 'mp4', rotation }))
    expect(facts).toMatchObject({ rotation, width, height })
    close()
  },
)
