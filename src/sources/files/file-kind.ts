import { ascii, find, spells } from './bytes.ts'

/** What a file is by its first bytes; its name and its stated type are not asked. */
export type FileKind =
  | 'jpeg'
  | 'png'
  | 'webp'
  | 'gif'
  | 'heic'
  | 'avif'
  /** TIFF family: TIFF, DNG and most camera raw files. */
  | 'tiff'
  | 'bmp'
  | 'jxl'
  | 'video'
  | 'pdf'
  | 'empty'
  | 'unknown'

const HEIC_BRANDS = ['heic', 'heix', 'heim', 'heis', 'hevc', 'hevx', 'mif1', 'msf1', 'mif2']
const AVIF_BRANDS = ['avif', 'avis']

/**
 * The kind of a file by its signature.
 *
 * @param bytes the beginning of the file, 32 bytes or more where the file has them
 * Sources: ISO/IEC 10918-1 (SOI), PNG 3rd edition 5.2, RIFF/WebP (RFC 9649), GIF89a, ISO/IEC 14496-12
 * (ftyp) with the brands of ISO/IEC 23008-12 and AVIF 1.1, TIFF 6.0, ISO/IEC 18181-2.
 */
export function fileKind(bytes: Uint8Array): FileKind {
  if (bytes.length === 0) return 'empty'
  if (spells(bytes, 0, '\xff\xd8\xff')) return 'jpeg'
  if (spells(bytes, 0, '\x89PNG\r\n\x1a\n')) return 'png'
  if (spells(bytes, 0, 'GIF87a') || spells(bytes, 0, 'GIF89a')) return 'gif'
  if (spells(bytes, 0, 'RIFF')) {
    if (spells(bytes, 8, 'WEBP')) return 'webp'
    return spells(bytes, 8, 'AVI ') ? 'video' : 'unknown'
  }
  if (spells(bytes, 0, 'II*\0') || spells(bytes, 0, 'MM\0*') || isBigTiff(bytes)) return 'tiff'
  if (spells(bytes, 4, 'ftyp')) return kindFromBrands(bytes)
  if (spells(bytes, 0, '\xff\x0a') || spells(bytes, 0, '\0\0\0\x0cJXL ')) return 'jxl'
  if (spells(bytes, 0, 'BM') && bytes.length >= 26) return 'bmp'
  if (spells(bytes, 0, '\x1aE\xdf\xa3')) return 'video'
  if (find(bytes, '%PDF-', 0, Math.min(bytes.length, 1024)) >= 0) return 'pdf'
  return 'unknown'
}

/** TIFF with offsets of 64 bits, for files beyond 4 GB (TIFF revision 7 draft, "BigTIFF"); not read. */
export const isBigTiff = (bytes: Uint8Array): boolean =>
  spells(bytes, 0, 'II+\0') || spells(bytes, 0, 'MM\0+')

/** Major brand first; `mif1` and the like only say "pictures", so the compatible brands decide. */
function kindFromBrands(bytes: Uint8Array): FileKind {
  const boxLength = ((bytes[2] ?? 0) << 8) | (bytes[3] ?? 0)
  const brands = [ascii(bytes, 8, 4)]
  for (let at = 16; at + 4 <= Math.min(boxLength, bytes.length, 256); at += 4) {
    brands.push(ascii(bytes, at, 4))
  }
  if (brands.some((brand) => AVIF_BRANDS.includes(brand))) return 'avif'
  if (brands.some((brand) => HEIC_BRANDS.includes(brand))) return 'heic'
  return ['isom', 'mp41', 'mp42', 'qt  ', 'avc1', 'M4V ', '3gp4', '3gp5'].some((brand) =>
    brands.includes(brand),
  )
    ? 'video'
    : 'unknown'
}
