import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { invert, transform } from '../../../src/numerics/matrix3.ts'
import { PhotoRefused } from '../../../src/sources/files/photo-refusal.ts'
import { readDngHeader } from '../../../src/sources/raw/dng-header.ts'
import { expectClose } from '../../close-to.ts'
import { writeTiff } from '../../making/write-tiff.ts'
import { latin } from '../files/containers.ts'
import { CARD, dngOf } from './forge-dng.ts'

const size = { width: 8, height: 6 }
const samples = new Uint16Array(48).fill(900)
const sound = dngOf(samples, size)

function refusal(bytes: Uint8Array) {
  try {
    readDngHeader(bytes)
  } catch (error) {
    if (error instanceof PhotoRefused) return error.refusal
    throw error
  }
  return null
}

describe('DNG headers', () => {
  test('levels, layout, colour and facts are read', () => {
    const header = readDngHeader(sound)
    expect(header).toMatchObject({
      rawWidth: 8,
      rawHeight: 6,
      active: { left: 0, top: 0, right: 8, bottom: 6 },
      layout: 'bayer',
      pattern: [0, 1, 1, 2],
      black: [512, 512, 512, 512],
      white: [16383, 16383, 16383, 16383],
      orientation: 1,
    })
    expect(header.facts).toMatchObject({
      takenAt: '2026-01-02T03:04:05',
      iso: 50,
      fNumber: 1.8,
      whiteBalance: 'manual',
      flashFired: false,
      model: 'Practice camera',
    })
    header.asShotNeutral?.forEach((v, c) => {
      expectClose(v, CARD[c]!, 1e-5)
    })
  })

  test('a neutral surface in daylight has the chromaticity of D65 (CIE 15: 0.3127, 0.3290)', () => {
    const xyz = transform(readDngHeader(sound).cameraToXyz!, CARD)
    const sum = xyz[0] + xyz[1] + xyz[2]
    expect(Math.abs(xyz[0] / sum - 0.3127)).toBeLessThan(0.00005)
    expect(Math.abs(xyz[1] / sum - 0.329)).toBeLessThan(0.00005)
  })

  test('of two matrices the one for daylight is taken (EXIF LightSource: 17 is A, 21 is D65)', () => {
    const second = (illuminant: number) =>
      dngOf(samples, {
        ...size,
        colorMatrix: [
          [0.9, 0, 0],
          [0, 1, 0],
          [0, 0, 0.4],
        ],
        illuminant: illuminant === 21 ? 17 : 21,
        more: [
          { tag: 50722, type: 'srational', values: [0.6, 0, 0, 0, 1, 0, 0, 0, 0.8] },
          { tag: 50779, type: 'short', values: [illuminant] },
        ],
      })
    expectClose(invert(readDngHeader(second(21)).cameraToXyz!)[0][0], 0.6, 1e-6)
    expectClose(invert(readDngHeader(second(17)).cameraToXyz!)[0][0], 0.9, 1e-6)
  })

  test('analogue gains and calibration act on the matrix (DNG 1.7, chapter 6)', () => {
    const file = dngOf(samples, {
      ...size,
      colorMatrix: [
        [0.5, 0, 0],
        [0, 1, 0],
        [0, 0, 0.25],
      ],
      more: [
        { tag: 50723, type: 'srational', values: [2, 0, 0, 0, 1, 0, 0, 0, 1] },
        { tag: 50727, type: 'rational', values: [1, 1, 4] },
      ],
    })
    const inverse = invert(readDngHeader(file).cameraToXyz!)
    expectClose(inverse[0][0], 1, 1e-6)
    expectClose(inverse[1][1], 1, 1e-6)
    expectClose(inverse[2][2], 1, 1e-6)
  })

  test('a white level that is not stated is the top code (DNG 1.7, WhiteLevel)', () => {
    const whites = (bits: number) =>
      readDngHeader(dngOf(samples, { ...size, black: [0], white: null, bits })).white
    expect(whites(12)).toEqual([4095, 4095, 4095, 4095])
    expect(whites(16)).toEqual([65535, 65535, 65535, 65535])
  })

  test('lossy samples of 8 bits come on 16: their levels go along', () => {
    const lossy = { layout: 'linear', bits: 8, compression: 34892, black: [2], white: 255 } as const
    const { black, white } = readDngHeader(dngOf(samples, { ...size, ...lossy }))
    expect(black).toEqual([514, 514, 514])
    expect(white).toEqual([65535, 65535, 65535])
  })

  describe('levels bent by an opcode or a table', () => {
    const lossy = { layout: 'linear', bits: 8, compression: 34892, black: [0], white: 255 } as const
    /** Opcode of an area and planes, with its parameters (DNG 1.7, chapter 7). */
    const opcode = (id: number, plane: number, planes: number, parameters: readonly number[]) => {
      const long = (value: number) =>
        [value >> 24, value >> 16, value >> 8, value].map((v) => v & 255)
      const fields = [0, 0, 6, 8, plane, planes, 1, 1].flatMap(long)
      return [
        ...[id, 0x01030000, 0, fields.length + parameters.length].flatMap(long),
        ...fields,
        ...parameters,
      ]
    }
    const list = (...opcodes: readonly number[][]) =>
      ({ tag: 51009, type: 'byte', values: [0, 0, 0, opcodes.length, ...opcodes.flat()] }) as const
    const polynomial = (plane: number, planes = 1) =>
      opcode(8, plane, planes, new Array(12).fill(0))
    const tone = { code: 'foreign raw', reason: 'tone' }
    const asked = (options: object) => refusal(dngOf(samples, { ...size, ...options }))

    test('are left to the decoder where it follows them', () => {
      const each = list(opcode(9, 0, 1, [0, 0]), polynomial(0), polynomial(1), polynomial(2))
      expect(asked({ ...lossy, more: [each] })).toBeNull()
      expect(asked({ more: [list(opcode(9, 0, 1, [0, 0]))] })).toBeNull()
    })

    test('are refused where it does not', () => {
      expect(asked({ ...lossy, more: [list(polynomial(0, 3))] })).toEqual(tone)
      expect(asked({ ...lossy, more: [list(polynomial(0), polynomial(1))] })).toEqual(tone)
      expect(asked({ ...lossy, more: [list(opcode(7, 0, 3, [0, 0]))] })).toEqual(tone)
      expect(asked({ more: [list(polynomial(0))] })).toEqual(tone)
      const table = { tag: 50712, type: 'short', values: [0, 1, 4, 9] } as const
      expect(asked({ ...lossy, more: [table] })).toEqual(tone)
      expect(asked({ more: [table] })).toBeNull()
    })
  })

  test('a file without colour matrix is read by its channels, JPEG XL is refused by name', () => {
    expect(readDngHeader(dngOf(samples, { ...size, colorMatrix: null })).cameraToXyz).toBeNull()
    expect(refusal(dngOf(samples, { ...size, compression: 52546 }))).toEqual({
      code: 'foreign raw',
      reason: 'jpeg xl',
    })
  })

  test('what is no DNG, cut off, or laid out otherwise is refused', () => {
    expect(refusal(new Uint8Array())?.code).toBe('empty file')
    expect(refusal(latin('hello'))).toEqual({ code: 'not a photo', kind: 'unknown' })
    const plain = writeTiff({ main: [{ tag: 256, type: 'long', values: [4] }] })
    expect(refusal(plain)).toEqual({ code: 'foreign raw', reason: 'no dng' })
    expect(refusal(sound.subarray(0, sound.length - 1))?.code).toBe('truncated')
    expect(refusal(sound.subarray(0, 60))?.code).toBe('truncated')
    const layout = { code: 'foreign raw', reason: 'layout' }
    expect(refusal(dngOf(samples, { ...size, pattern: [0, 1, 1, 1] }))).toEqual(layout)
    expect(refusal(dngOf(samples, { ...size, activeArea: [0, 0, 7, 8] }))).toEqual(layout)
    expect(refusal(dngOf(samples, { ...size, black: [16380] }))).toEqual(layout)
    const rows = { tag: 50716, type: 'srational', values: [0, 0, 3, 0, 0, 0] } as const
    expect(refusal(dngOf(samples, { ...size, more: [rows] }))).toEqual(layout)
    expect(refusal(dngOf(samples, { ...size, width: 12000, height: 10000 }))?.code).toBe(
      'too many pixels',
    )
  })

  test('any bytes at all are read or refused', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.nat(sound.length - 1), fc.nat(255)), { maxLength: 5 }),
        fc.integer({ min: 4, max: sound.length }),
        (changes, length) => {
          const bytes = sound.slice(0, length)
          for (const [at, value] of changes) bytes[at % length] = value
          refusal(bytes)
        },
      ),
      { numRuns: 400 },
    )
  })
})
