import { expect, test } from 'vitest'
import { readExposurePhotos } from '../../../src/session/kit/exposure-photos.ts'
import { deviceIdOf } from '../../../src/session/reading/photo-meaning.ts'
import type { PhotoFacts } from '../../../src/sources/files/photo-facts.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'
import { exposureRefusal, offWords, settingWords } from '../../../src/ui/words/exposures.ts'

const FACTS = { make: 'Example', model: 'E-1' } as PhotoFacts
const DEVICE = deviceIdOf(FACTS)

/** A raw photo of one even scene whose cells hold so much light. */
function photo(exposureSeconds: number | null, light: number, change: object = {}): Photo {
  const cells = 100
  return {
    channels: 'camera',
    facts: { ...FACTS, exposureSeconds, iso: 100, fNumber: 2 },
    lightMap: async () => ({
      width: 10,
      height: 10,
      cell: 4,
      of: { width: 40, height: 40 },
      light: new Float32Array(3 * cells).fill(light),
      flags: new Uint8Array(cells),
    }),
    close: () => undefined,
    ...change,
  } as unknown as Photo
}

const read = (photos: readonly Photo[]) => {
  const files = photos.map((_, i) => new File([], `${i}.dng`))
  const open = async (file: File) => photos[Number.parseInt(file.name, 10)]!
  return readExposurePhotos(files, DEVICE, {}, open)
}

test('raw photos of one scene say what each setting gathers', async () => {
  // Labelled a stop apart; the longer one gathers 6 % less than that.
  const found = await read([photo(0.01, 0.2), photo(0.02, 0.376)])
  if (found.kind !== 'measured') throw new Error(found.refusal.code)
  const [short, long] = found.exposures
  expect(long!.lnOff - short!.lnOff).toBeCloseTo(Math.log(0.94), 6)
  expect(settingWords(short!)).toBe('1/100 s, ISO 100, f/2')
  expect(offWords(short!)).toBe('+3 ± 2 %')
  expect(offWords(long!)).toBe('−3 ± 2 %')
})

test('photos that say nothing are refused by name', async () => {
  const refusal = async (photos: readonly Photo[]) => {
    const found = await read(photos)
    return found.kind === 'refused' ? exposureRefusal(found.refusal).title : null
  }
  expect(await refusal([photo(0.01, 0.2)])).toBe('All have one exposure')
  expect(await refusal([photo(null, 0.2)])).toBe('0.dng does not state its exposure')
  expect(await refusal([photo(0.01, 0.2, { channels: 'display-p3' })])).toBe(
    '0.dng is no raw photo',
  )
  const other = { facts: { ...photo(0.01, 0.2).facts, model: 'E-2' } }
  expect(await refusal([photo(0.01, 0.2, other)])).toBe('0.dng is of another camera')
})
