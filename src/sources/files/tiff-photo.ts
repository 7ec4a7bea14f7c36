import { isBigTiff } from './file-kind.ts'
import type { Subsampling } from './jpeg-header.ts'
import { PhotoRefused } from './photo-refusal.ts'
import { checkSize } from './photo-size.ts'
import {
  DNG_VERSION,
  numbersOf,
  readTiffDirectories,
  type TiffDirectory,
} from './tiff-directories.ts'

const TAG = {
  width: 256,
  height: 257,
  bitsPerSample: 258,
  compression: 259,
  photometric: 262,
  fillOrder: 266,
  samplesPerPixel: 277,
  planar: 284,
  tileWidth: 322,
  sampleFormat: 339,
  subsampling: 530,
  profile: 34675,
} as const
/** None, LZW, deflate in both its numbers. */
const COMPRESSIONS = [1, 5, 8, 32946]
/** JPEG of TIFF 6.0, given up in 1995: raw files hold their previews so. */
const OLD_JPEG = 6
const RGB = 2
const INKS = 5
const GREYS = [0, 1]
/** Colour filter array and linear raw: camera raw files are TIFF files too. */
const RAWS = [32803, 34892]

/**
 * An ordinary TIFF picture: RGB, 8 or 16 bits, uncompressed, LZW or deflate, in strips. The decoder
 * mixes up tiles of three channels and bits in reverse order without a word: both are refused here.
 *
 * @throws PhotoRefused for raw files (a DNG by `raw file`), and for kinds that are not read
 * Source: TIFF 6.0, sections 4 to 6 and 13; Adobe Photoshop TIFF technical notes (deflate).
 */
export function readTiffPhoto<Space>(
  bytes: Uint8Array,
  spaceOf: (icc: Uint8Array | null, cicp: null) => Space,
): Space & {
  size: { width: number; height: number }
  bitsPerSample: number
  subsampling: Subsampling
} {
  if (isBigTiff(bytes)) throw new PhotoRefused({ code: 'cannot decode', kind: 'tiff' })
  const { pictures } = readTiffDirectories(bytes, [...Object.values(TAG), DNG_VERSION])
  if (pictures.some((d) => d.has(DNG_VERSION))) throw new PhotoRefused({ code: 'raw file' })
  const first = (d: TiffDirectory | undefined, tag: number) => numbersOf(d, tag)[0]
  const [main] = pictures
  const raw = pictures.some((d) => RAWS.includes(first(d, TAG.photometric) ?? 0))
  const photometric = first(main, TAG.photometric)
  const compression = first(main, TAG.compression) ?? 1
  if (main === undefined || photometric === undefined || raw || compression === OLD_JPEG) {
    throw new PhotoRefused({ code: 'foreign raw', reason: 'no dng' })
  }
  const size = { width: first(main, TAG.width) ?? 0, height: first(main, TAG.height) ?? 0 }
  checkSize(size.width, size.height)
  if (GREYS.includes(photometric)) throw new PhotoRefused({ code: 'no colour' })
  if (photometric === INKS) throw new PhotoRefused({ code: 'ink colours' })
  const bitsPerSample = first(main, TAG.bitsPerSample) ?? 1
  const fits =
    photometric === RGB &&
    COMPRESSIONS.includes(compression) &&
    !main.has(TAG.tileWidth) &&
    (first(main, TAG.fillOrder) ?? 1) === 1 &&
    (bitsPerSample === 8 || bitsPerSample === 16) &&
    [3, 4].includes(first(main, TAG.samplesPerPixel) ?? 1) &&
    (first(main, TAG.planar) ?? 1) === 1 &&
    (first(main, TAG.sampleFormat) ?? 1) === 1
  if (!fits) throw new PhotoRefused({ code: 'cannot decode', kind: 'tiff' })
  const icc = numbersOf(main, TAG.profile)
  // RGB that says so was made out of a picture whose colour was stored at half resolution.
  const halved = (numbersOf(main, TAG.subsampling)[0] ?? 1) > 1
  return {
    ...spaceOf(icc.length > 0 ? Uint8Array.from(icc) : null, null),
    size,
    bitsPerSample,
    subsampling: halved ? '4:2:0' : '4:4:4',
  }
}
