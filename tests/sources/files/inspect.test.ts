import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findOrientation } from '../../../src/sources/files/exif-orientation.ts'
import { fileKind } from '../../../src/sources/files/file-kind.ts'
import { inspectPhoto } from '../../../src/sources/files/inspect.ts'
import { PhotoRefused } from '../../../src/sources/files/photo-refusal.ts'
import { P3_COLORANTS, writeIccProfile } from '../../making/write-icc.ts'
import { writePng } from '../../making/write-png.ts'
import { writeTiff } from '../../making/write-tiff.ts'
import {
  gif,
  heif,
  join,
  jpeg,
  latin,
  nclx,
  segment,
  WIDE_GREEN_COLORANTS,
  webp,
  webpChunk,
  webpExtended,
  webpLossless,
  webpLossy,
} from './containers.ts'

const grey = () => [128, 128, 128]
const p3 = writeIccProfile('Display P3', P3_COLORANTS)

function refusal(bytes: Uint8Array) {
  try {
    inspectPhoto(bytes)
  } catch (error) {
    if (error instanceof PhotoRefused) return error.refusal
    throw error
  }
  return null
}

describe('what a file is', () => {
  test('by its first bytes', () => {
    expect(fileKind(jpeg(8, 8))).toBe('jpeg')
    expect(fileKind(writePng(2, 2, grey))).toBe('png')
    expect(fileKind(webp(webpLossy(8, 8)))).toBe('webp')
    expect(fileKind(gif(8, 8, 1))).toBe('gif')
    expect(fileKind(heif(8, 8))).toBe('heic')
    expect(fileKind(heif(8, 8, { brands: ['mif1', 'avif'] }))).toBe('avif')
    expect(fileKind(heif(8, 8, { brands: ['isom', 'mp42'] }))).toBe('video')
    expect(fileKind(writeTiff({ main: [] }))).toBe('tiff')
    expect(fileKind(latin('%PDF-1.7'))).toBe('pdf')
    expect(fileKind(latin('hello'))).toBe('unknown')
    expect(fileKind(new Uint8Array())).toBe('empty')
  })
})

describe('what is refused before a pixel is decoded', () => {
  test('no photo, nothing at all', () => {
    expect(refusal(latin('once upon a time'))).toEqual({ code: 'not a photo', kind: 'unknown' })
    expect(refusal(latin('%PDF-1.7'))).toEqual({ code: 'not a photo', kind: 'pdf' })
    expect(refusal(new Uint8Array())).toEqual({ code: 'empty file' })
  })

  test('a picture for print, a picture without colour', () => {
    const inks = jpeg(640, 480, { sampling: [0x11, 0x11, 0x11, 0x11] })
    expect(refusal(inks)).toEqual({ code: 'ink colours' })
    expect(refusal(jpeg(640, 480, { sampling: [0x11] }))).toEqual({ code: 'no colour' })
    expect(refusal(writePng(2, 2, grey, { grey: true }))).toEqual({ code: 'no colour' })
    expect(refusal(heif(64, 48, { chroma: 0 }))).toEqual({ code: 'no colour' })
  })

  test('no pixels, too many pixels', () => {
    expect(refusal(jpeg(0, 0))).toEqual({ code: 'no pixels', width: 0, height: 0 })
    expect(refusal(writePng(1, 1, grey, { claims: [0, 5] }))?.code).toBe('no pixels')
    expect(refusal(jpeg(12000, 9000))).toEqual({
      code: 'too many pixels',
      megapixels: 108,
      allowedMegapixels: 100,
    })
    expect(refusal(jpeg(10000, 10000))).toBeNull()
    expect(refusal(writePng(1, 1, grey, { claims: [1 << 30, 1 << 30] }))?.code).toBe(
      'too many pixels',
    )
  })

  test('what moves', () => {
    expect(refusal(writePng(2, 2, grey, { frames: 2 }))).toEqual({ code: 'animated', kind: 'png' })
    expect(refusal(writePng(2, 2, grey, { frames: 1 }))).toBeNull()
    expect(refusal(gif(8, 8, 2))).toEqual({ code: 'animated', kind: 'gif' })
    expect(refusal(gif(8, 8, 1))).toBeNull()
    expect(refusal(webp(webpExtended(8, 8, 2)))).toEqual({ code: 'animated', kind: 'webp' })
    expect(refusal(heif(8, 8, { brands: ['avis', 'avif'] }))).toEqual({
      code: 'animated',
      kind: 'avif',
    })
  })

  test('what was cut off on its way', () => {
    const files = {
      jpeg: jpeg(64, 48),
      png: writePng(9, 9, grey),
      webp: webp(webpLossy(64, 48)),
      gif: gif(8, 8, 1),
      heic: heif(64, 48),
    }
    for (const [kind, bytes] of Object.entries(files)) {
      expect(refusal(bytes), kind).toBeNull()
      const cut = bytes.subarray(0, bytes.length - 2)
      expect(refusal(cut), kind).toEqual({ code: 'truncated', kind, bytes: cut.length })
    }
    const before = files.png.subarray(0, 24)
    expect(refusal(before)).toEqual({ code: 'truncated', kind: 'png', bytes: 24 })
  })

  test('a picture coded for high dynamic range only', () => {
    expect(refusal(writePng(2, 2, grey, { cicp: [9, 16] }))).toEqual({
      code: 'hdr only',
      transfer: 'pq',
    })
    expect(refusal(heif(8, 8, { colour: nclx(9, 18) }))).toEqual({
      code: 'hdr only',
      transfer: 'hlg',
    })
  })

  test('raw files: DNG goes its own way, another TIFF is foreign', () => {
    const size = [
      { tag: 256, type: 'long', values: [4] },
      { tag: 257, type: 'long', values: [4] },
    ] as const
    const version = { tag: 50706, type: 'byte', values: [1, 4, 0, 0] } as const
    expect(refusal(writeTiff({ main: [...size, version] }))).toEqual({ code: 'raw file' })
    expect(refusal(writeTiff({ main: size }))).toEqual({ code: 'foreign raw', reason: 'no dng' })
  })

  test('a TIFF of a kind that its decoder would mix up, or does not know', () => {
    const field = (tag: number, ...values: number[]) => ({ tag, type: 'short', values }) as const
    const rgb = [field(256, 4), field(257, 4), field(258, 8, 8, 8), field(262, 2), field(277, 3)]
    const tiff = (...more: ReturnType<typeof field>[]) =>
      refusal(writeTiff({ main: [...rgb, ...more] }))
    expect(tiff(field(259, 5))).toBeNull()
    // TIFF 6.0: tiles (section 15), bits in reverse (8), PackBits (9), JPEG (technical note 2), floats (19).
    const unread = [field(322, 64), field(266, 2), field(259, 32773), field(259, 7), field(339, 3)]
    for (const one of unread) {
      expect(tiff(one), `field ${one.tag}`).toEqual({ code: 'cannot decode', kind: 'tiff' })
    }
    const wide = join(latin('II+\0'), [8, 0, 0, 0, 16, 0, 0, 0, 0, 0, 0, 0])
    expect(refusal(wide)).toEqual({ code: 'cannot decode', kind: 'tiff' })
  })

  test('any bytes at all are read or refused, and never crash', () => {
    const starts = [
      jpeg(64, 48),
      writePng(3, 3, grey, { iccProfile: p3 }),
      webp(webpExtended(8, 8, 0), webpLossy(8, 8)),
      gif(8, 8, 1),
      heif(64, 48, { colour: nclx(1, 13) }),
      writeTiff({ main: [{ tag: 256, type: 'long', values: [4] }] }),
    ]
    fc.assert(
      fc.property(
        fc.constantFrom(...starts),
        fc.array(fc.tuple(fc.nat(2000), fc.nat(255)), { maxLength: 6 }),
        fc.nat(2000),
        (start, changes, length) => {
          const bytes = start.slice(0, Math.max(4, length))
          for (const [at, value] of changes) bytes[at % bytes.length] = value
          refusal(bytes)
        },
      ),
      { numRuns: 500 },
    )
  })
})

describe('what is known beforehand', () => {
  test('the space: sRGB unless the file says otherwise (CSS Color 4, 12.1)', () => {
    const icc = segment(0xe2, join(latin('ICC_PROFILE\0'), [1, 1], p3))
    expect(inspectPhoto(jpeg(8, 8)).space).toBe('srgb')
    expect(inspectPhoto(jpeg(8, 8, { segments: [icc] }))).toMatchObject({
      space: 'display-p3',
      profileName: 'Display P3',
    })
    expect(inspectPhoto(writePng(2, 2, grey, { iccProfile: p3 })).space).toBe('display-p3')
    expect(inspectPhoto(webp(webpExtended(8, 8, 0x20), webpChunk('ICCP', p3))).space).toBe(
      'display-p3',
    )
    const prof = join(latin('prof'), p3)
    expect(inspectPhoto(heif(8, 8, { colour: prof })).space).toBe('display-p3')
    const other = writeIccProfile('wide green', WIDE_GREEN_COLORANTS, { gamma: 2.2 })
    expect(inspectPhoto(writePng(2, 2, grey, { iccProfile: other }))).toMatchObject({
      space: 'other',
      profileName: 'wide green',
    })
    expect(inspectPhoto(writePng(2, 2, grey, { gamma: 1.8 })).space).toBe('other')
    expect(inspectPhoto(writePng(2, 2, grey, { gamma: 2.2 })).space).toBe('srgb')
  })

  test('code points rule over a profile (PNG 3rd edition, 4.3; ITU-T H.273: 12/13 is Display P3)', () => {
    const file = writePng(2, 2, grey, { cicp: [12, 13] })
    expect(inspectPhoto(file).space).toBe('display-p3')
    expect(inspectPhoto(writePng(2, 2, grey, { cicp: [1, 13], iccProfile: p3 })).space).toBe('srgb')
    expect(inspectPhoto(heif(8, 8, { colour: nclx(12, 13) })).space).toBe('display-p3')
    expect(inspectPhoto(heif(8, 8, { colour: nclx(9, 14) })).space).toBe('other')
  })

  test('in HEIF a profile rules over code points, which are then about brightness and colour', () => {
    const both = (primaries: number, transfer: number) =>
      heif(8, 8, { colour: nclx(primaries, transfer), profile: p3 })
    expect(inspectPhoto(both(1, 13)).space).toBe('display-p3')
    expect(refusal(both(9, 16))).toEqual({ code: 'hdr only', transfer: 'pq' })
  })

  test('size and halved colour', () => {
    expect(inspectPhoto(webp(webpLossy(301, 199)))).toMatchObject({
      size: { width: 301, height: 199 },
      subsampling: '4:2:0',
    })
    expect(inspectPhoto(webp(webpLossless(301, 199)))).toMatchObject({
      size: { width: 301, height: 199 },
      subsampling: '4:4:4',
    })
    expect(inspectPhoto(webp(webpExtended(5000, 4000, 0))).size).toMatchObject({
      width: 5000,
      height: 4000,
    })
    expect(inspectPhoto(heif(4032, 3024))).toMatchObject({
      size: { width: 4032, height: 3024 },
      subsampling: '4:2:0',
    })
    expect(inspectPhoto(heif(8, 8, { chroma: 3 })).subsampling).toBe('4:4:4')
  })

  test('a HEIF picture that is to be turned (ISO/IEC 23008-12, irot)', () => {
    expect(inspectPhoto(heif(8, 8)).turnedByContainer).toBe(false)
    expect(inspectPhoto(heif(8, 8, { quarterTurns: 0 })).turnedByContainer).toBe(false)
    expect(inspectPhoto(heif(8, 8, { quarterTurns: 3 })).turnedByContainer).toBe(true)
  })

  test('a gain map beside the base picture', () => {
    expect(inspectPhoto(heif(8, 8)).hasGainMap).toBe(false)
    expect(inspectPhoto(heif(8, 8, { gainMap: 'tmap' })).hasGainMap).toBe(true)
    expect(inspectPhoto(heif(8, 8, { gainMap: 'auxiliary' })).hasGainMap).toBe(true)
  })
})

describe('EXIF of containers', () => {
  // Orientation 6 (EXIF 2.32, 4.6.5): the first row of the picture is its right-hand side.
  const turned = writeTiff({
    main: [{ tag: 274, type: 'short', values: [6] }],
    pixels: new Uint8Array(0),
  })

  test.each([
    ['WebP', webp(webpExtended(8, 8, 0x08), webpLossy(8, 8), webpChunk('EXIF', turned))],
    ['AVIF', heif(8, 8, { brands: ['avif', 'mif1'], exif: turned })],
    ['HEIC', heif(8, 8, { exif: turned })],
  ])('is found in %s, with its orientation', (_, file) => {
    const { exif } = inspectPhoto(file)
    expect(exif && findOrientation(exif)?.orientation).toBe(6)
  })
})
