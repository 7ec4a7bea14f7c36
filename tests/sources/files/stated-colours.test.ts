import Color from 'colorjs.io'
import { describe, expect, test } from 'vitest'
import { transform } from '../../../src/numerics/matrix3.ts'
import { inspectPhoto } from '../../../src/sources/files/inspect.ts'
import { profileOfChunks, profileOfCodePoints } from '../../../src/sources/files/stated-colours.ts'
import { writePng } from '../../making/write-png.ts'

const COLOURS = [
  [1, 0, 0],
  [0, 1, 0],
  [0.6, 0.1, 0.01],
] as const

/** Linear light of a profile's curve at code 0..1. */
const lightAt = (profile: ReturnType<typeof profileOfChunks>, code: number) =>
  profile!.curves[0][Math.round(1023 * code)]!

describe('colours that a file states without a profile', () => {
  // Reference: colorjs.io, linear spaces.
  test.each([
    [1, 'srgb-linear'],
    [9, 'rec2020-linear'],
    [12, 'p3-linear'],
  ] as const)(
    'primaries %i of H.273 come to Display P3 as colorjs.io has it',
    (primaries, space) => {
      for (const colour of COLOURS) {
        const [r, g, b] = transform(profileOfCodePoints(primaries, 13)!.toP3, colour)
        const expected = new Color(space, [...colour]).to('p3-linear').coords
        // Its white is D65 with more digits (0.3127, 0.329 rounded): 0.0005 at most.
        for (const [i, value] of [r, g, b].entries()) expect(value).toBeCloseTo(expected[i]!, 3)
      }
    },
  )

  test('curves of H.273: video of BT.709, powers, linear, sRGB', () => {
    // BT.709-6, item 1.2: two pieces that meet at code 0.081; sRGB: IEC 61966-2-1.
    // On the lower piece of the curve light is code / 4.5.
    expect(lightAt(profileOfCodePoints(1, 1), 82 / 1023)).toBeCloseTo(82 / 1023 / 4.5, 9)
    const above = ((84 / 1023 + 0.099) / 1.099) ** (1 / 0.45)
    expect(lightAt(profileOfCodePoints(1, 1), 84 / 1023)).toBeCloseTo(above, 9)
    expect(lightAt(profileOfCodePoints(1, 1), 1)).toBe(1)
    expect(lightAt(profileOfCodePoints(1, 4), 512 / 1023)).toBeCloseTo((512 / 1023) ** 2.2, 6)
    expect(lightAt(profileOfCodePoints(1, 8), 512 / 1023)).toBeCloseTo(512 / 1023, 6)
    const srgb = ((512 / 1023 + 0.055) / 1.055) ** 2.4
    expect(lightAt(profileOfCodePoints(1, 13), 512 / 1023)).toBeCloseTo(srgb, 9)
    expect(profileOfCodePoints(1, 16)).toBeNull()
    expect(profileOfCodePoints(99, 13)).toBeNull()
  })

  test('a gamma chunk of 1.0 says that codes are light; of nothing there is no profile', () => {
    expect(lightAt(profileOfChunks(1, null), 512 / 1023)).toBeCloseTo(512 / 1023, 6)
    expect(profileOfChunks(0, null)).toBeNull()
    const nowhere = { x: 0, y: 0 }
    const none = { white: nowhere, red: nowhere, green: nowhere, blue: nowhere }
    expect(profileOfChunks(0.45455, none)).toBeNull()
  })

  test('the header of a PNG carries it', () => {
    const grey = () => [9, 9, 9]
    expect(inspectPhoto(writePng(2, 2, grey, { gamma: 1.8 })).profile).not.toBeNull()
    expect(inspectPhoto(writePng(2, 2, grey, { cicp: [9, 13] })).profile).not.toBeNull()
    expect(inspectPhoto(writePng(2, 2, grey, { gamma: 2.2 })).profile).toBeNull()
    // Codes that run from 16 to 235 (H.273, full range flag 0) are not read as 0 to 255.
    for (const cicp of [
      [9, 13],
      [1, 13],
    ] as const)
      expect(inspectPhoto(writePng(2, 2, grey, { cicp, narrow: true }))).toMatchObject({
        space: 'other',
        profile: null,
      })
  })
})
