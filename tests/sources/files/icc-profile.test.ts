import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { readIccProfile } from '../../../src/sources/files/icc-profile.ts'
import { P3_COLORANTS, SRGB_COLORANTS, writeIccProfile } from '../../making/write-icc.ts'
import { WIDE_GREEN_COLORANTS } from './containers.ts'

describe('ICC profiles', () => {
  test('Display P3 and sRGB are known by their numbers, whatever they are called', () => {
    expect(readIccProfile(writeIccProfile('Display P3', P3_COLORANTS))).toEqual({
      name: 'Display P3',
      space: 'display-p3',
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
