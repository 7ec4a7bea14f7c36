import type { RgbSpace } from '../../light/image.ts'
import { viewOf } from './bytes.ts'
import { type FileKind, fileKind } from './file-kind.ts'
import { readGifHeader } from './gif-header.ts'
import { readHeifHeader } from './heif-header.ts'
import { type MatrixProfile, readIccProfile } from './icc-profile.ts'
import { type DcSteps, readJpegHeader, type Subsampling } from './jpeg-header.ts'
import { MAX_FILE_MEGABYTES, PhotoRefused } from './photo-refusal.ts'
import { checkSize } from './photo-size.ts'
import { readPngHeader } from './png-header.ts'
import { profileOfChunks, profileOfCodePoints } from './stated-colours.ts'
import { readTiffPhoto } from './tiff-photo.ts'
import { readWebpHeader } from './webp-header.ts'

/** What stands in a photo file, known before a pixel is decoded. */
export interface PhotoHeader {
  readonly kind: FileKind
  /** Pixels as stored, before the EXIF orientation. */
  readonly size: { readonly width: number; readonly height: number }
  /** `other`: a profile of another space, named by `profileName`. */
  readonly space: RgbSpace | 'other'
  readonly profileName: string
  /** Primaries and curves of a matrix profile of a third space. */
  readonly profile: MatrixProfile | null
  readonly bitsPerSample: number
  readonly subsampling: Subsampling
  /** Of a JPEG; null where not known. */
  readonly dcSteps: DcSteps | null
  readonly hasGainMap: boolean
  /** The container itself asks for turning (HEIF irot, imir); EXIF is told apart. */
  readonly turnedByContainer: boolean
  /** TIFF block with the EXIF data, where it stands outside of the container's own directory. */
  readonly exif: Uint8Array | null
}

/** gAMA of files in sRGB (PNG 3rd edition, 11.3.2.5). */
const SRGB_GAMMA = 0.45455

type Cicp = { readonly primaries: number; readonly transfer: number; readonly narrow?: boolean }

/**
 * Inspects a file and refuses what cannot be measured, before anything is decoded.
 *
 * @param bytes the whole file
 * @throws PhotoRefused
 */
export function inspectPhoto(bytes: Uint8Array): PhotoHeader {
  if (bytes.length > MAX_FILE_MEGABYTES * 1e6) {
    throw new PhotoRefused({
      code: 'too many bytes',
      megabytes: bytes.length / 1e6,
      allowedMegabytes: MAX_FILE_MEGABYTES,
    })
  }
  const kind = fileKind(bytes)
  try {
    return readHeader(kind, bytes)
  } catch (error) {
    if (error instanceof RangeError) {
      throw new PhotoRefused({ code: 'truncated', kind, bytes: bytes.length })
    }
    throw error
  }
}

function readHeader(kind: FileKind, bytes: Uint8Array): PhotoHeader {
  const base = {
    kind,
    space: 'srgb',
    profileName: '',
    profile: null,
    bitsPerSample: 8,
    subsampling: '4:4:4',
    dcSteps: null,
    hasGainMap: false,
    turnedByContainer: false,
    exif: null,
  } as const
  switch (kind) {
    case 'jpeg': {
      const header = readJpegHeader(bytes)
      if (header.components === 0) refuseTruncated(kind, bytes)
      checkSize(header.width, header.height)
      if (header.components === 4) throw new PhotoRefused({ code: 'ink colours' })
      if (header.components !== 3) throw new PhotoRefused({ code: 'no colour' })
      if (!header.complete) refuseTruncated(kind, bytes)
      return { ...base, ...pick(header), size: header, ...spaceOf(header.iccProfile, null) }
    }
    case 'png': {
      const header = readPngHeader(bytes)
      // Cut off before its own size.
      if (header.bitsPerSample === 0 && !header.complete) refuseTruncated(kind, bytes)
      checkSize(header.width, header.height)
      if (header.animated) throw new PhotoRefused({ code: 'animated', kind })
      if (!header.hasColour) throw new PhotoRefused({ code: 'no colour' })
      if (!header.complete) refuseTruncated(kind, bytes)
      const { gamma, primaries } = header
      const otherCurve = gamma !== null && Math.abs(gamma - SRGB_GAMMA) > 0.001
      const other = (otherCurve || primaries !== null) && !header.statesSrgb
      return {
        ...base,
        size: header,
        bitsPerSample: header.bitsPerSample,
        exif: header.exif,
        ...(other && header.iccProfile === null && header.cicp === null
          ? { space: 'other' as const, profile: profileOfChunks(gamma, primaries) }
          : spaceOf(header.iccProfile, header.cicp)),
      }
    }
    case 'webp': {
      const header = readWebpHeader(bytes)
      checkSize(header.width, header.height)
      if (header.animated) throw new PhotoRefused({ code: 'animated', kind })
      if (!header.complete) refuseTruncated(kind, bytes)
      const { subsampling, exif } = header
      return { ...base, subsampling, exif, size: header, ...spaceOf(header.iccProfile, null) }
    }
    case 'heic':
    case 'avif': {
      const header = readHeifHeader(bytes)
      if (header.animated) throw new PhotoRefused({ code: 'animated', kind })
      if (!header.complete) refuseTruncated(kind, bytes)
      checkSize(header.width, header.height)
      if (!header.hasColour) throw new PhotoRefused({ code: 'no colour' })
      const { bitsPerSample, subsampling, hasGainMap, turned, exif } = header
      return {
        ...base,
        bitsPerSample,
        subsampling,
        hasGainMap,
        turnedByContainer: turned,
        exif,
        size: header,
        ...heifSpace(header),
      }
    }
    case 'gif': {
      const header = readGifHeader(bytes)
      checkSize(header.width, header.height)
      if (header.animated) throw new PhotoRefused({ code: 'animated', kind })
      if (!header.complete) refuseTruncated(kind, bytes)
      return { ...base, size: header }
    }
    case 'tiff':
      return { ...base, ...readTiffPhoto(bytes, spaceOf) }
    case 'bmp': {
      // Rows from the top are stated by a negative height.
      const view = viewOf(bytes)
      const size = { width: view.getInt32(18, true), height: Math.abs(view.getInt32(22, true)) }
      checkSize(size.width, size.height)
      return { ...base, size }
    }
    case 'jxl':
      throw new PhotoRefused({ code: 'cannot decode', kind })
    case 'empty':
      throw new PhotoRefused({ code: 'empty file' })
    default:
      throw new PhotoRefused({ code: 'not a photo', kind })
  }
}

const pick = (header: ReturnType<typeof readJpegHeader>) => ({
  bitsPerSample: header.bitsPerSample,
  subsampling: header.subsampling,
  dcSteps: header.dcSteps,
  hasGainMap: header.hasGainMap,
  exif: header.exif,
})

function refuseTruncated(kind: FileKind, bytes: Uint8Array): never {
  throw new PhotoRefused({ code: 'truncated', kind, bytes: bytes.length })
}

/**
 * The space a browser takes the file to be in: code points first (PNG 3rd edition 4.3), then the
 * profile, and sRGB where nothing is stated (CSS Color 4, 12.1).
 */
function spaceOf(
  icc: Uint8Array | null,
  cicp: Cicp | null,
): Pick<PhotoHeader, 'space' | 'profileName' | 'profile'> {
  if (cicp !== null) {
    if (cicp.transfer === 16) throw new PhotoRefused({ code: 'hdr only', transfer: 'pq' })
    if (cicp.transfer === 18) throw new PhotoRefused({ code: 'hdr only', transfer: 'hlg' })
  }
  // 2 is "unspecified" in both: the profile decides.
  if (cicp !== null && cicp.primaries !== 2 && (icc === null || cicp.transfer !== 2)) {
    // Codes of narrow range are left to the browser.
    const standard = !cicp.narrow && (cicp.transfer === 13 || cicp.transfer === 2)
    if (standard && cicp.primaries === 1)
      return { space: 'srgb', profileName: 'sRGB', profile: null }
    if (standard && cicp.primaries === 12)
      return { space: 'display-p3', profileName: 'Display P3', profile: null }
    return {
      space: 'other',
      profileName: `H.273 ${cicp.primaries}/${cicp.transfer}`,
      profile: cicp.narrow ? null : profileOfCodePoints(cicp.primaries, cicp.transfer),
    }
  }
  if (icc === null) return { space: 'srgb', profileName: '', profile: null }
  const profile = readIccProfile(icc)
  return { space: profile.space, profileName: profile.name, profile: profile.matrix }
}

/**
 * A profile in a HEIF file rules over code points beside it, which then say how the codes of
 * brightness and colour are made (ISO/IEC 23008-12 and 23000-22, from memory); only that the levels
 * are for bright screens is still to be heeded.
 */
function heifSpace({ iccProfile, cicp }: { iccProfile: Uint8Array | null; cicp: Cicp | null }) {
  const bright = cicp?.transfer === 16 || cicp?.transfer === 18
  return spaceOf(iccProfile, iccProfile === null || bright ? cicp : null)
}
