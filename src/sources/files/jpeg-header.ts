import { find, spells, viewOf } from './bytes.ts'
import { MAX_PIECES, MAX_PROFILE_BYTES, PhotoRefused } from './photo-refusal.ts'

/** Resolution of the colour channels against brightness, in ITU-R notation. */
export type Subsampling = '4:4:4' | '4:2:2' | '4:2:0' | '4:4:0' | '4:1:1' | 'other'

/** In what steps a JPEG codes eight times the mean of a block. */
export interface DcSteps {
  readonly luma: number
  readonly chroma: number
}

export interface JpegHeader {
  /** Pixels as stored, before the EXIF orientation. 0 where no frame header was found. */
  readonly width: number
  readonly height: number
  readonly bitsPerSample: number
  /** 1 grey, 3 colour, 4 inks. */
  readonly components: number
  readonly subsampling: Subsampling
  /** Steps of the DC terms of brightness and of colour; null where no table was found. */
  readonly dcSteps: DcSteps | null
  readonly iccProfile: Uint8Array | null
  /** TIFF block of the EXIF segment. */
  readonly exif: Uint8Array | null
  /** A gain map for high dynamic range rides along; the base picture is an ordinary one. */
  readonly hasGainMap: boolean
  /** The end-of-image marker of the first picture was found. */
  readonly complete: boolean
}

const EXIF = 'Exif\0\0'
const XMP = 'http://ns.adobe.com/xap/1.0/\0'
const ICC = 'ICC_PROFILE\0'
const GAIN_MAP_NAMESPACE = 'http://ns.adobe.com/hdr-gain-map/1.0/'
const GAIN_MAP_ISO = 'urn:iso:std:iso:ts:21496:-1'

/**
 * Reads the marker segments of a JPEG without decoding a pixel, and walks through the entropy-coded
 * data up to the end-of-image marker: a browser decodes a cut-off file without complaint and paints
 * the missing part grey.
 *
 * @param bytes the whole file; what follows the first picture (further pictures, maker's trailers) is
 *   not looked at
 * Sources: ISO/IEC 10918-1 annex B (markers), JFIF, Exif 2.32 4.7.2 (APP1), ICC.1:2022 annex B.4
 * (APP2), ISO 21496-1 annex C (gain map).
 */
export function readJpegHeader(bytes: Uint8Array): JpegHeader {
  const view = viewOf(bytes)
  let width = 0
  let height = 0
  let bitsPerSample = 0
  let samplingFactors: number[] = []
  let tableOf: number[] = []
  const dcOfTable = new Map<number, number>()
  let exif: Uint8Array | null = null
  let hasGainMap = false
  let complete = false
  const iccParts: { sequence: number; data: Uint8Array }[] = []

  let at = 2
  let segments = 0
  while (at + 1 < bytes.length) {
    if (++segments > MAX_PIECES) throw new PhotoRefused({ code: 'damaged', kind: 'jpeg' })
    if (bytes[at] !== 0xff) {
      // Junk between segments is skipped, as decoders do.
      at = bytes.indexOf(0xff, at)
      if (at < 0) break
    }
    const marker = bytes[at + 1] ?? 0
    if (marker === 0xff) {
      at += 1
      continue
    }
    at += 2
    if (marker === 0xd9) {
      complete = true
      break
    }
    if (marker === 0 || marker === 0x01 || (marker >= 0xd0 && marker <= 0xd8)) continue
    if (at + 2 > bytes.length) break
    const length = view.getUint16(at)
    const segment = bytes.subarray(at + 2, at + Math.max(2, length))
    if (at + length > bytes.length) break

    if (isFrameHeader(marker)) {
      const frame = viewOf(segment)
      if (segment.length < 6) break
      bitsPerSample = frame.getUint8(0)
      height = frame.getUint16(1)
      width = frame.getUint16(3)
      samplingFactors = []
      tableOf = []
      for (let i = 0; i < frame.getUint8(5) && 7 + 3 * i < segment.length; i++) {
        samplingFactors.push(frame.getUint8(7 + 3 * i))
        tableOf.push(segment[8 + 3 * i] ?? -1)
      }
    } else if (marker === 0xdb) {
      readDcTerms(segment, dcOfTable)
    } else if (marker === 0xe1 && spells(segment, 0, EXIF)) {
      exif ??= segment.subarray(EXIF.length)
    } else if (marker === 0xe1 && spells(segment, 0, XMP)) {
      hasGainMap ||= find(segment, GAIN_MAP_NAMESPACE) >= 0
    } else if (marker === 0xe2 && spells(segment, 0, ICC) && segment.length > ICC.length + 2) {
      iccParts.push({
        sequence: segment[ICC.length] ?? 0,
        data: segment.subarray(ICC.length + 2),
      })
    } else if (marker === 0xe2 && spells(segment, 0, GAIN_MAP_ISO)) {
      hasGainMap = true
    }
    at += Math.max(2, length)
    if (marker === 0xda) at = endOfScan(bytes, at)
  }

  return {
    width,
    height,
    bitsPerSample,
    components: samplingFactors.length,
    subsampling: subsamplingFromFactors(samplingFactors),
    dcSteps: dcStepsOf(tableOf, dcOfTable),
    iccProfile: joinIcc(iccParts),
    exif,
    hasGainMap,
    complete,
  }
}

/** Quantisation tables, ISO/IEC 10918-1 B.2.4.1: precision and number, then 64 steps, DC first. */
function readDcTerms(segment: Uint8Array, dcOfTable: Map<number, number>): void {
  for (let at = 0; at + 2 < segment.length; ) {
    const head = segment[at] ?? 0
    const wide = head >> 4 === 1
    const first = segment[at + 1] ?? 0
    dcOfTable.set(head & 15, wide ? 256 * first + (segment[at + 2] ?? 0) : first)
    at += 1 + (wide ? 128 : 64)
  }
}

function dcStepsOf(tableOf: readonly number[], dcOfTable: Map<number, number>): DcSteps | null {
  const luma = dcOfTable.get(tableOf[0] ?? -1)
  const chroma = dcOfTable.get(tableOf[1] ?? tableOf[0] ?? -1)
  return luma && chroma ? { luma, chroma } : null
}

/** SOF0 to SOF15 without the tables that share the range (DHT, JPG, DAC). */
function isFrameHeader(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc
}

/** Position of the marker that ends the entropy-coded data: stuffed zeros and restarts are data. */
function endOfScan(bytes: Uint8Array, from: number): number {
  let at = bytes.indexOf(0xff, from)
  while (at >= 0 && at + 1 < bytes.length) {
    const next = bytes[at + 1] ?? 0
    if (next !== 0 && !(next >= 0xd0 && next <= 0xd7) && next !== 0xff) return at
    at = bytes.indexOf(0xff, at + (next === 0xff ? 1 : 2))
  }
  return bytes.length
}

/** Sampling factors: high nibble horizontal, low nibble vertical, brightness first. */
function subsamplingFromFactors(factors: readonly number[]): Subsampling {
  if (factors.length < 3) return '4:4:4'
  const [luma, blue, red] = factors as [number, number, number]
  if (blue !== red) return 'other'
  const across = (luma >> 4) / (blue >> 4)
  const down = (luma & 15) / (blue & 15)
  const names: Record<string, Subsampling> = {
    '1x1': '4:4:4',
    '2x1': '4:2:2',
    '2x2': '4:2:0',
    '1x2': '4:4:0',
    '4x1': '4:1:1',
  }
  return names[`${across}x${down}`] ?? 'other'
}

function joinIcc(parts: { sequence: number; data: Uint8Array }[]): Uint8Array | null {
  if (parts.length === 0) return null
  parts.sort((a, b) => a.sequence - b.sequence)
  const length = parts.reduce((sum, part) => sum + part.data.length, 0)
  if (length > MAX_PROFILE_BYTES) throw new PhotoRefused({ code: 'damaged', kind: 'jpeg' })
  const joined = new Uint8Array(length)
  let at = 0
  for (const { data } of parts) {
    joined.set(data, at)
    at += data.length
  }
  return joined
}
