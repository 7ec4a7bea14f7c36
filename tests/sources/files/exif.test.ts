import { readFileSync } from 'node:fs'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { factsFromExifBlock, factsFromFile } from '../../../src/sources/files/exif.ts'
import { exposureFromFacts, NO_FACTS, soundFacts } from '../../../src/sources/files/photo-facts.ts'
import { expectClose } from '../../close-to.ts'
import { type TiffField, writeTiff } from '../../making/write-tiff.ts'
import { photoPath } from '../../measured-data.ts'
import { join, jpeg, latin, segment } from './containers.ts'

/** Tags of Exif 2.32, tables 4 to 8 and 15. */
const main: TiffField[] = [
  { tag: 271, type: 'ascii', values: 'Made up' },
  { tag: 272, type: 'ascii', values: 'Pocket 1' },
  { tag: 305, type: 'ascii', values: 'made by hand' },
]
const exif: TiffField[] = [
  { tag: 33434, type: 'rational', values: [0.004] },
  { tag: 33437, type: 'rational', values: [1.8] },
  { tag: 34855, type: 'short', values: [125] },
  { tag: 36867, type: 'ascii', values: '2026:02:03 04:05:06' },
  { tag: 36881, type: 'ascii', values: '+01:00' },
  { tag: 37384, type: 'short', values: [21] },
  { tag: 37385, type: 'short', values: [0x19] },
  { tag: 37521, type: 'ascii', values: '78' },
  { tag: 41987, type: 'short', values: [1] },
  { tag: 42036, type: 'ascii', values: 'glass 4 mm' },
]
const gps: TiffField[] = [
  { tag: 1, type: 'ascii', values: 'N' },
  { tag: 2, type: 'rational', values: [47, 33, 12.5] },
  { tag: 3, type: 'ascii', values: 'E' },
  { tag: 4, type: 'rational', values: [9, 44, 1.5] },
]

const expected = {
  takenAt: '2026-02-03T04:05:06.78+01:00',
  exposureSeconds: 0.004,
  iso: 125,
  fNumber: 1.8,
  whiteBalance: 'manual',
  lightSource: 21,
  flashFired: true,
  exposureProgram: null,
  make: 'Made up',
  model: 'Pocket 1',
  lens: 'glass 4 mm',
  software: 'made by hand',
}

describe('facts of a photo', () => {
  test('are read from an EXIF block and from a JPEG alike', async () => {
    const block = writeTiff({ main, exif })
    expect(await factsFromExifBlock(block)).toEqual(expected)
    const file = jpeg(8, 8, { segments: [segment(0xe1, join(latin('Exif\0\0'), block))] })
    expect(await factsFromFile(file)).toEqual(expected)
  })

  test('never say where it was taken', async () => {
    const facts = await factsFromExifBlock(writeTiff({ main, exif, gps }))
    expect(facts).toEqual(expected)
    expect(JSON.stringify(facts)).not.toMatch(/47|33|44|gps|lat|lon/i)
  })

  test('are all missing where there is no EXIF or where it is broken', async () => {
    expect(await factsFromFile(jpeg(8, 8))).toEqual(NO_FACTS)
    expect(await factsFromExifBlock(latin('nonsense'))).toEqual(NO_FACTS)
  })

  test('a hostile value costs only itself', async () => {
    const facts = await factsFromExifBlock(
      writeTiff({
        main: [
          { tag: 271, type: 'ascii', values: `\u0007${'x'.repeat(5000)}` },
          { tag: 272, type: 'long', values: [7] },
        ],
        exif: [
          { tag: 33434, type: 'rational', values: [0] },
          { tag: 33437, type: 'ascii', values: 'wide' },
          { tag: 34855, type: 'short', values: [400] },
          { tag: 36867, type: 'ascii', values: '2026:99:99 04:05:06' },
          { tag: 41987, type: 'short', values: [9] },
        ],
      }),
    )
    expect(facts).toEqual({ ...NO_FACTS, iso: 400, make: 'x'.repeat(80) })
  })

  test('text ends at its first NUL: what stands behind is left over', async () => {
    const facts = await factsFromExifBlock(
      writeTiff({
        main: [
          { tag: 271, type: 'ascii', values: 'Made up\0 2026:01:02 rest' },
          { tag: 272, type: 'ascii', values: '\0behind' },
        ],
      }),
    )
    expect(facts.make).toBe('Made up')
    expect(facts.model).toBeNull()
  })

  test('a clock that was never set gives no time', async () => {
    for (const values of ['0000:00:00 00:00:00', '    :  :     :  :  ']) {
      const block = writeTiff({ main: [], exif: [{ tag: 36867, type: 'ascii', values }] })
      expect((await factsFromExifBlock(block)).takenAt).toBeNull()
    }
  })

  test('anything at all becomes sound facts', () => {
    fc.assert(
      fc.property(
        fc.dictionary(fc.constantFrom(...Object.keys(NO_FACTS)), fc.anything()),
        (raw) => {
          const facts = soundFacts(raw)
          expect(Object.keys(facts)).toEqual(Object.keys(NO_FACTS))
          expect(JSON.parse(JSON.stringify(facts))).toEqual(facts)
        },
      ),
    )
  })

  test('exposure: twice the time, or one stop less of f-number, lets in twice the light', () => {
    const at = (exposureSeconds: number, fNumber: number, iso: number) =>
      exposureFromFacts({ ...NO_FACTS, exposureSeconds, fNumber, iso })!
    expect(at(1, 1, 100)).toBe(1)
    expectClose(at(0.02, 2, 100) / at(0.01, 2, 100), 2, 1e-12)
    expectClose(at(0.01, 2, 100) / at(0.01, 2 * Math.SQRT2, 100), 2, 1e-12)
    expect(exposureFromFacts(NO_FACTS)).toBeNull()
  })

  test('a sweep of another program: one stop a frame', async () => {
    const exposures = await Promise.all(
      ['0', '-1', '-2', '-3'].map(async (ev) => {
        const bytes = readFileSync(photoPath(`set1-glow${ev}.jpg`))
        return exposureFromFacts(await factsFromFile(bytes))
      }),
    )
    exposures.slice(1).forEach((exposure, i) => {
      // Written as a fraction of whole numbers: a few parts in ten thousand.
      expectClose(exposures[i]! / exposure!, 2, 1e-3)
    })
  })
})
