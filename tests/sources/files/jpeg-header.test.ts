import { readFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { readJpegHeader } from '../../../src/sources/files/jpeg-header.ts'
import { encodeJpeg } from '../../making/encode-jpeg.ts'
import { PHOTO_SETS, photoPath } from '../../measured-data.ts'
import { join, jpeg, latin, segment } from './containers.ts'

describe('JPEG headers', () => {
  test.each([
    [[0x11, 0x11, 0x11], '4:4:4'],
    [[0x21, 0x11, 0x11], '4:2:2'],
    [[0x22, 0x11, 0x11], '4:2:0'],
    [[0x12, 0x11, 0x11], '4:4:0'],
    [[0x41, 0x11, 0x11], '4:1:1'],
    [[0x22, 0x22, 0x22], '4:4:4'],
    [[0x22, 0x21, 0x11], 'other'],
  ])(
    'sampling factors %j are %s (T.81 A.1.1; ITU-R notation, common practice)',
    (sampling, name) => {
      expect(readJpegHeader(jpeg(640, 480, { sampling })).subsampling).toBe(name)
    },
  )

  test.each([
    // T.81 annex K: DC steps 16 and 17 at quality 50; scaled by 2 - quality/50 as the reference
    // encoder of the Independent JPEG Group does (common practice).
    [50, { luma: 16, chroma: 17 }],
    [80, { luma: 6, chroma: 7 }],
    [95, { luma: 2, chroma: 2 }],
  ])('the steps of the means at quality %i are those of the tables', (quality, steps) => {
    const rgb = new Uint8Array(3 * 16 * 16).fill(128)
    expect(readJpegHeader(encodeJpeg(rgb, 16, 16, { quality })).dcSteps).toEqual(steps)
  })

  test('size and number of components come from the frame header, baseline or progressive', () => {
    for (const progressive of [false, true]) {
      const header = readJpegHeader(jpeg(4032, 3024, { progressive }))
      expect(header).toMatchObject({ width: 4032, height: 3024, components: 3, complete: true })
    }
    expect(readJpegHeader(jpeg(10, 10, { sampling: [0x11] })).components).toBe(1)
    expect(readJpegHeader(jpeg(10, 10, { sampling: [0x11, 0x11, 0x11, 0x11] })).components).toBe(4)
  })

  test('a file without the end-of-image marker is not complete', () => {
    expect(readJpegHeader(jpeg(64, 48, { end: false })).complete).toBe(false)
  })

  test('every cut of a real file before its last byte is seen, and nothing throws', () => {
    const rgb = Uint8Array.from({ length: 32 * 24 * 3 }, (_, i) => (i * 37) & 255)
    const whole = encodeJpeg(rgb, 32, 24, { quality: 90 })
    expect(readJpegHeader(whole).complete).toBe(true)
    for (let length = 3; length < whole.length; length++) {
      expect(readJpegHeader(whole.subarray(0, length)).complete).toBe(false)
    }
  })

  test('an end-of-image marker of an embedded thumbnail does not count', () => {
    const thumbnail = segment(0xe1, join(latin('Exif\0\0'), [0xff, 0xd8, 0xff, 0xd9]))
    const file = jpeg(64, 48, { segments: [thumbnail], end: false })
    expect(readJpegHeader(file).complete).toBe(false)
  })

  test('what follows the first picture is left alone: further pictures and trailers', () => {
    const file = join(jpeg(4000, 3000), jpeg(320, 240), latin('trailer'))
    expect(readJpegHeader(file)).toMatchObject({ width: 4000, height: 3000, complete: true })
  })

  test('parts of an ICC profile are joined in the order of their numbers', () => {
    const part = (n: number, text: string) =>
      segment(0xe2, join(latin('ICC_PROFILE\0'), [n, 2], latin(text)))
    const { iccProfile } = readJpegHeader(
      jpeg(8, 8, { segments: [part(2, 'world'), part(1, 'hello ')] }),
    )
    expect(new TextDecoder().decode(iccProfile ?? undefined)).toBe('hello world')
  })

  test('a gain map is seen by its XMP namespace or by ISO 21496-1', () => {
    const xmp = segment(
      0xe1,
      latin(
        'http://ns.adobe.com/xap/1.0/\0<x xmlns:hdrgm="http://ns.adobe.com/hdr-gain-map/1.0/"/>',
      ),
    )
    const iso = segment(0xe2, latin('urn:iso:std:iso:ts:21496:-1\0\0\0\0\0'))
    expect(readJpegHeader(jpeg(8, 8, { segments: [xmp] })).hasGainMap).toBe(true)
    expect(readJpegHeader(jpeg(8, 8, { segments: [iso] })).hasGainMap).toBe(true)
    expect(readJpegHeader(jpeg(8, 8)).hasGainMap).toBe(false)
  })

  test('photos of another program', () => {
    for (const { files, chromaSubsampling } of PHOTO_SETS)
      for (const file of [files.card, ...[...files.glow, ...files.salt].map((p) => p.file)]) {
        const header = readJpegHeader(readFileSync(photoPath(file)))
        expect(header.complete, file).toBe(true)
        expect(header.subsampling, file).toBe(chromaSubsampling)
        expect(header.exif, file).not.toBeNull()
      }
  })
})
