import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readIccProfile } from '../../../src/sources/files/icc-profile.ts'
import {
  ADOBE_COLORANTS,
  P3_COLORANTS,
  SRGB_COLORANTS,
  writeIccProfile,
} from '../../making/write-icc.ts'
import { WIDE_GREEN_COLORANTS } from './containers.ts'

describe('ICC profiles', () => {
  test('Display P3 and sRGB are known by their numbers, whatever they are called', () => {
    expect(readIccProfile(writeIccProfile('Display P3', P3_COLORANTS))).toEqual({
      name: 'Display P3',
      space: 'display-p3',
      matrix: null,
    })
    expect(readIccProfile(writeIccProfile('made up', SRGB_COLORANTS)).space).toBe('srgb')
    expect(readIccProfile(writeIccProfile('sampled', SRGB_COLORANTS, 'sampled')).space).toBe('srgb')
  })

  test('other colorants or another curve make another space, whatever it is called', () => {
    expect(readIccProfile(writeIccProfile('sRGB', WIDE_GREEN_COLORANTS)).space).toBe('other')
    expect(readIccProfile(writeIccProfile('sRGB', SRGB_COLORANTS, { gamma: 2.2 })).space).toBe(
      'other',
    )
    expect(readIccProfile(writeIccProfile('Display P3', P3_COLORANTS, { gamma: 2.6 })).space).toBe(
      'other',
    )
  })

  test('a matrix profile of a third space carries its primaries and curves', () => {
    const { matrix } = readIccProfile(writeIccProfile('wide', ADOBE_COLORANTS, { gamma: 2.2 }))
    for (const curve of matrix!.curves)
      expect(Math.abs(curve[512]! - (512 / 1023) ** (563 / 256))).toBeLessThan(1e-4)
    // White is white in every space: the colorants of each add up to D50.
    for (const row of matrix!.toP3)
      expect(Math.abs(row[0] + row[1] + row[2] - 1)).toBeLessThan(1e-3)
    // Red of Adobe RGB (1998) is that of sRGB: x 0.64, y 0.33.
    const { matrix: narrow } = readIccProfile(writeIccProfile('s', SRGB_COLORANTS, { gamma: 2.2 }))
    const ratio = (m: typeof matrix) => m!.toP3[1][0] / m!.toP3[0][0]
    expect(Math.abs(ratio(matrix) - ratio(narrow))).toBeLessThan(1e-3)
  })

  test('a broken profile is another space and never throws', () => {
    const sound = writeIccProfile('Display P3', P3_COLORANTS)
    fc.assert(
      fc.property(
        fc.nat(sound.length - 1),
        fc.nat(255),
        fc.nat(sound.length),
        (at, value, length) => {
          const broken = sound.slice(0, length)
          if (at < broken.length) broken[at] = value
          expect(['srgb', 'display-p3', 'other']).toContain(readIccProfile(broken).space)
        },
      ),
    )
    expect(readIccProfile(new Uint8Array()).space).toBe('other')
  })
})
