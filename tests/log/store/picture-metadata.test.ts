import { describe, expect, it } from 'vitest'
import { withoutMetadata } from '../../../src/log/store/picture-metadata.ts'
import { jpegWithMetadata } from '../opening.ts'
import { ascii, pngChunk } from './picture-parts.ts'

describe('a PNG', () => {
  const SIGNATURE = [0x89, ...ascii('PNG\r\n'), 0x1a, 0x0a]
  const head = pngChunk('IHDR', [0, 0, 0, 1, 0, 0, 0, 1, 8, 2, 0, 0, 0])
  const end = pngChunk('IEND', [])
  const clean = (...parts: number[][]) => withoutMetadata(new Uint8Array(parts.flat()), 'image/png')

  it('keeps every chunk that changes how its pixels look (ISO/IEC 15948, 11.3)', () => {
    for (const name of [
      'PLTE',
      'IDAT',
      'tRNS',
      'iCCP',
      'sRGB',
      'gAMA',
      'cHRM',
      'sBIT',
      'bKGD',
      'pHYs',
    ]) {
      const whole = [...SIGNATURE, ...head, ...pngChunk(name, [1, 2]), ...end]
      expect([...clean(whole)!], name).toEqual(whole)
    }
  })

  it('has its signature, and chunks within the file up to the last', () => {
    expect(clean(SIGNATURE, head, end)).toBeDefined()
    for (let i = 0; i < 8; i++)
      expect(clean(SIGNATURE.with(i, 0), head, end), `byte ${i}`).toBeUndefined()
    expect(clean(SIGNATURE, head)).toBeUndefined()
    expect(clean(SIGNATURE, head, end.slice(0, -1))).toBeUndefined()
    expect(clean(SIGNATURE, head.with(3, 255), end)).toBeUndefined()
    // One that says it reaches to the last byte, and one byte further.
    const text = pngChunk('tEXt', [1, 2, 3])
    expect([...clean(SIGNATURE, head, text, end)!]).toEqual([...SIGNATURE, ...head, ...end])
    const idat = [...pngChunk('IDAT', [1]), 0, 0, 0, 0, ...ascii('IEND'), 0, 0, 0]
    expect(clean(SIGNATURE, head, idat)).toBeUndefined()
  })

  it('is read where it lies within other bytes', () => {
    const whole = [...SIGNATURE, ...head, ...end]
    const within = new Uint8Array([1, 2, 3, ...whole]).subarray(3)
    expect([...withoutMetadata(within, 'image/png')!]).toEqual(whole)
  })
})

describe('a WebP', () => {
  const chunk = (name: string, content: number[]) => [
    ...ascii(name),
    content.length,
    0,
    0,
    0,
    ...content,
    ...(content.length % 2 ? [0] : []),
  ]
  const webp = (form: string, body: number[]) => [
    ...ascii('RIFF'),
    body.length + 4,
    0,
    0,
    0,
    ...ascii(form),
    ...body,
  ]
  const clean = (bytes: number[]) => withoutMetadata(new Uint8Array(bytes), 'image/webp')

  it('keeps its pictures and its alpha, whole, with the byte that makes a chunk even', () => {
    for (const name of ['VP8 ', 'VP8L', 'ALPH']) {
      const whole = webp('WEBP', [...chunk(name, [1, 2, 3]), ...chunk('VP8 ', [4, 5])])
      expect([...clean([...whole])!], name).toEqual(whole)
    }
    // The last may lack that byte.
    const odd = webp('WEBP', chunk('VP8 ', [1, 2, 3]).slice(0, -1))
    expect([...clean(odd)!].slice(-3)).toEqual([1, 2, 3])
  })

  it('is a RIFF of that form, also where it lies within other bytes', () => {
    const body = chunk('VP8 ', [1, 2])
    expect(clean(webp('WAVE', body))).toBeUndefined()
    expect(clean(webp('WEBP', body).with(0, 0x4c))).toBeUndefined()
    const within = new Uint8Array([9, 9, ...webp('WEBP', body)]).subarray(2)
    expect([...withoutMetadata(within, 'image/webp')!]).toEqual(webp('WEBP', body))
  })

  it('keeps what its header says but of EXIF and XMP (RFC 9649, 2.7)', () => {
    const header = [0b0011_1110, 0, 0, 0, 7, 0, 0, 8, 0, 0]
    const bytes = new Uint8Array(webp('WEBP', [...chunk('VP8X', header), ...chunk('VP8 ', [1, 2])]))
    const before = [...bytes]
    expect([...withoutMetadata(bytes, 'image/webp')!].slice(20, 30)).toEqual(
      header.with(0, 0b0011_0010),
    )
    // The file that was given stays as it is.
    expect([...bytes]).toEqual(before)
  })
})

describe('a JPEG', () => {
  it('begins with its first marker, and has a marker wherever a segment ends', () => {
    const plain = [...jpegWithMetadata()]
    const clean = (bytes: number[]) => withoutMetadata(new Uint8Array(bytes), 'image/jpeg')
    for (let i = 0; i < 3; i++) expect(clean(plain.with(i, 0)), `byte ${i}`).toBeUndefined()
    // JFIF takes 16 bytes and two for its marker.
    expect(clean(plain.toSpliced(20, 0, 0))).toBeUndefined()
    expect([...clean(plain.toSpliced(20, 0, 0xff, 0xff))!]).toEqual([...clean(plain)!])
    // Without a scan or an end there is no picture.
    expect(clean(plain.slice(0, 20))).toBeUndefined()
    expect([...clean([0xff, 0xd8, 0xff, 0xd9, 7])!]).toEqual([0xff, 0xd8, 0xff, 0xd9])
  })

  it('has lengths of two bytes', () => {
    const table = [0xff, 0xdb, 0x01, 0x04, ...new Array<number>(258).fill(3)]
    const bytes = [0xff, 0xd8, ...table, 0xff, 0xd9]
    expect([...withoutMetadata(new Uint8Array(bytes), 'image/jpeg')!]).toEqual(bytes)
  })
})
