import { describe, expect, it } from 'vitest'
import { crc32 } from '../../src/log/crc32.ts'
import { withoutMetadata } from '../../src/log/store/picture-metadata.ts'
import { jpegWithMetadata } from './opening.ts'
import { ascii, pngChunk } from './store/picture-parts.ts'

const textOf = (bytes: Uint8Array | undefined) => String.fromCharCode(...(bytes ?? []))

describe('crc32', () => {
  it('gives the check value of CRC-32/ISO-HDLC', () => {
    // Check value in the catalogue of parametrised CRC algorithms: "123456789" -> 0xCBF43926.
    expect(crc32(new Uint8Array(ascii('123456789')))).toBe(0xcbf43926)
  })
  it('goes on in chunks', () => {
    const bytes = new Uint8Array(ascii('123456789'))
    expect(crc32(bytes.subarray(4), crc32(bytes.subarray(0, 4)))).toBe(0xcbf43926)
  })
})

describe('a picture without metadata', () => {
  it('keeps what a JPEG looks like and drops the rest', () => {
    const clean = withoutMetadata(jpegWithMetadata(), 'image/jpeg')
    const text = textOf(clean)
    expect(text).toContain('JFIF')
    expect(text).toContain('ICC_PROFILE')
    expect([...clean!.subarray(-7)]).toEqual([1, 2, 0xff, 0, 3, 0xff, 0xd9])
    for (const gone of ['Exif', 'GPS', 'Photoshop', 'comment', 'trailing']) {
      expect(text).not.toContain(gone)
    }
    expect(withoutMetadata(clean!, 'image/jpeg')).toEqual(clean)
  })

  it.each([
    // JFXX carries a thumbnail; APP2 a gain map or a second picture; APP14 of another kind a note.
    [0xe0, 'JFXX\0\u0013small picture'],
    [0xe1, 'http://ns.adobe.com/xap/1.0/\0 place'],
    [0xe2, 'MPF\0 second picture'],
    [0xe2, 'urn:iso:std:iso:ts:21496:-1\0 gain map'],
    [0xed, 'Photoshop 3.0\0 city'],
    [0xee, 'Owner\0 name'],
    [0xef, 'anything'],
    [0xfe, 'a comment'],
  ])('drops segment %i of a JPEG that says %j', (marker, says) => {
    const plain = jpegWithMetadata()
    const content = ascii(says)
    const length = content.length + 2
    const foreign = [0xff, marker, length >> 8, length & 255, ...content]
    const bytes = new Uint8Array([...plain.subarray(0, 2), ...foreign, ...plain.subarray(2)])
    expect(withoutMetadata(bytes, 'image/jpeg')).toEqual(withoutMetadata(plain, 'image/jpeg'))
  })

  it('keeps the segment that says how colours are coded', () => {
    const plain = jpegWithMetadata()
    const adobe = [0xff, 0xee, 0, 14, ...ascii('Adobe'), 0, 100, 0, 0, 0, 0, 1]
    const bytes = new Uint8Array([...plain.subarray(0, 2), ...adobe, ...plain.subarray(2)])
    expect(textOf(withoutMetadata(bytes, 'image/jpeg'))).toContain('Adobe')
  })

  it('keeps colour chunks of a PNG and drops texts, times and EXIF', () => {
    const png = new Uint8Array([
      0x89,
      ...ascii('PNG\r\n'),
      0x1a,
      0x0a,
      ...pngChunk('IHDR', [0, 0, 0, 1, 0, 0, 0, 1, 8, 2, 0, 0, 0]),
      ...pngChunk('cICP', [12, 13, 0, 1]),
      ...pngChunk('tEXt', ascii('Location\0workshop')),
      ...pngChunk('eXIf', ascii('GPS')),
      ...pngChunk('IDAT', [1, 2, 3]),
      ...pngChunk('IEND', []),
      ...ascii('trailing'),
    ])
    const text = textOf(withoutMetadata(png, 'image/png'))
    for (const kept of ['IHDR', 'cICP', 'IDAT', 'IEND']) expect(text).toContain(kept)
    for (const gone of ['tEXt', 'workshop', 'eXIf', 'GPS', 'trailing']) {
      expect(text).not.toContain(gone)
    }
  })

  it('drops EXIF and XMP of a WebP and says so in its header', () => {
    const chunk = (name: string, content: number[]) => [
      ...ascii(name),
      content.length,
      0,
      0,
      0,
      ...content,
      ...(content.length % 2 ? [0] : []),
    ]
    const body = [
      ...ascii('WEBP'),
      ...chunk('VP8X', [0b10_1100, 0, 0, 0, 0, 0, 0, 0, 0, 0]),
      ...chunk('ICCP', [1, 2, 3]),
      ...chunk('VP8L', [4, 5, 6]),
      ...chunk('EXIF', ascii('GPS')),
      ...chunk('XMP ', ascii('place')),
    ]
    const webp = new Uint8Array([...ascii('RIFF'), body.length, 0, 0, 0, ...body])
    const clean = withoutMetadata(webp, 'image/webp')!
    expect(textOf(clean)).not.toMatch(/GPS|place|EXIF|XMP/)
    expect(textOf(clean)).toContain('ICCP')
    expect(clean[20]).toBe(0b10_0000)
    expect(new DataView(clean.buffer).getUint32(4, true)).toBe(clean.length - 8)
  })

  it('refuses bytes of another kind', () => {
    for (const type of ['image/jpeg', 'image/png', 'image/webp'] as const) {
      expect(withoutMetadata(new Uint8Array(ascii('GIF89a')), type)).toBeUndefined()
      expect(withoutMetadata(new Uint8Array(0), type)).toBeUndefined()
    }
  })

  it('never fails on a damaged file, whatever byte is wrong', () => {
    const whole = jpegWithMetadata()
    for (let i = 0; i < whole.length; i++) {
      const damaged = whole.slice()
      damaged[i] = damaged[i]! ^ 0xff
      withoutMetadata(damaged, 'image/jpeg')
      withoutMetadata(whole.subarray(0, i), 'image/jpeg')
    }
  })
})

describe('where the parts of a picture end', () => {
  const plain = jpegWithMetadata()
  const scanAt = plain.findIndex((byte, i) => byte === 0xff && plain[i + 1] === 0xda)
  /** The picture with other bytes in its scan. */
  const scanned = (...content: number[]) =>
    new Uint8Array([...plain.subarray(0, scanAt + 10), ...content, 0xff, 0xd9, ...ascii('after')])
  const clean = (bytes: Uint8Array) => withoutMetadata(bytes, 'image/jpeg')

  it('a scan goes on over its eight restarts and stuffed zeros, and ends at any other marker', () => {
    for (const next of [0, 0xd0, 0xd3, 0xd7]) {
      const bytes = clean(scanned(1, 0xff, next, 2))!
      expect([...bytes.subarray(-6)], `${next}`).toEqual([1, 0xff, next, 2, 0xff, 0xd9])
    }
    const filled = clean(scanned(1, 0xff, 0xff, 0xd0, 2))!
    expect([...filled.subarray(-7)]).toEqual([1, 0xff, 0xff, 0xd0, 2, 0xff, 0xd9])
    // Segments before restarts and after them: tables between scans are kept, notes are not.
    for (const marker of [0xcf, 0xdb])
      expect([...clean(scanned(1, 0xff, marker, 0, 3, 7))!.subarray(-7)]).toEqual([
        0xff,
        marker,
        0,
        3,
        7,
        0xff,
        0xd9,
      ])
    expect([...clean(scanned(1, 0xff, 0xfe, 0, 3, 7))!.subarray(-3)]).toEqual([1, 0xff, 0xd9])
  })

  it('application segments are E0 to EF, and nothing beside them', () => {
    for (const [marker, kept] of [
      [0xdf, true],
      [0xe0, false],
      [0xef, false],
      [0xf0, true],
    ] as const) {
      const segment = [0xff, marker, 0, 6, ...ascii('note')]
      const bytes = new Uint8Array([...plain.subarray(0, 2), ...segment, ...plain.subarray(2)])
      expect(textOf(clean(bytes)).includes('note'), marker.toString(16)).toBe(kept)
    }
  })

  it('a segment is as long as it says, at least two bytes, and within the file', () => {
    const empty = new Uint8Array([...plain.subarray(0, 2), 0xff, 0xdb, 0, 2, ...plain.subarray(2)])
    expect(clean(empty)).toBeDefined()
    const short = new Uint8Array([...plain.subarray(0, 2), 0xff, 0xdb, 0, 1, ...plain.subarray(2)])
    expect(clean(short)).toBeUndefined()
    const upTo = (length: number) =>
      clean(new Uint8Array([0xff, 0xd8, 0xff, 0xda, 0, length, 1, 2]))
    expect(upTo(4)).toBeDefined()
    expect(upTo(5)).toBeUndefined()
    expect(clean(new Uint8Array([0xff, 0xd8, 0xff, 0xda, 0]))).toBeUndefined()
  })

  it('a WebP needs a picture, within the file', () => {
    const webp = (...chunks: number[][]) => {
      const body = [...ascii('WEBP'), ...chunks.flat()]
      return withoutMetadata(
        new Uint8Array([...ascii('RIFF'), body.length, 0, 0, 0, ...body]),
        'image/webp',
      )
    }
    const chunk = (name: string, says: number, content: number[]) => [
      ...ascii(name),
      says,
      0,
      0,
      0,
      ...content,
    ]
    expect(webp(chunk('VP8 ', 2, [1, 2]))).toBeDefined()
    expect(webp(chunk('VP8 ', 3, [1, 2]))).toBeUndefined()
    expect(webp(chunk('EXIF', 2, [1, 2]))).toBeUndefined()
    expect(webp()).toBeUndefined()
    // A header of ten bytes says what the file holds; a shorter one is none.
    const header = [0b1100, 0, 0, 0, 0, 0, 0, 0, 0, 0]
    expect(webp(chunk('VP8X', 10, header), chunk('VP8 ', 2, [1, 2]))![20]).toBe(0)
    expect(textOf(webp(chunk('VP8X', 8, header.slice(2)), chunk('VP8 ', 2, [1, 2])))).not.toContain(
      'VP8X',
    )
  })
})
