import type { RgbSpace } from '../../light/image.ts'
import { FACT_TAGS, factsFromExifBlock, factsFromTags } from '../files/exif.ts'
import { findOrientation } from '../files/exif-orientation.ts'
import type { FileKind } from '../files/file-kind.ts'
import { inspectPhoto, type PhotoHeader } from '../files/inspect.ts'
import { NO_FACTS, type PhotoFacts } from '../files/photo-facts.ts'
import { PhotoRefused } from '../files/photo-refusal.ts'
import { checkSize } from '../files/photo-size.ts'
import { readTiffDirectories } from '../files/tiff-directories.ts'
import { withoutProfile } from '../files/without-profile.ts'
import { ArrayPixels, type DecodedArray } from './array-pixels.ts'
import { BitmapPixels } from './bitmap-pixels.ts'
import { type DecoderState, probeDecoder } from './decoder-probe.ts'
import type { PhotoNote } from './photo.ts'
import type { PhotoPixels } from './pixel-source.ts'
import { profileCodes } from './profile-codes.ts'

/** From this size on, a decoder that gives up has most likely run out of memory. */
const LARGE_MEGAPIXELS = 30

/** Every browser decodes these: where one does not, the file is to blame. */
const EVERYWHERE: readonly FileKind[] = ['jpeg', 'png', 'webp', 'gif', 'bmp']

export interface Decoded {
  readonly header: PhotoHeader
  readonly facts: PhotoFacts
  readonly pixels: PhotoPixels
  readonly notes: readonly PhotoNote[]
}

/**
 * Inspects and decodes a photo, once.
 *
 * @throws PhotoRefused
 */
export async function decodePhoto(blob: Blob): Promise<Decoded> {
  const { header, exif, toDecode, bytes, orientation, stripped } = await inspect(blob)
  const [decoded, state, facts] = await Promise.all([
    decodedBy(toDecode, bytes, header),
    probeDecoder(),
    exif,
  ])
  const toSpace = header.profile && profileCodes(header.profile)
  if (!(decoded instanceof ImageBitmap)) {
    checkBitmap(decoded, header)
    // Its codes passed no canvas: they are those of the file, whatever the browser does to others.
    const space = header.space === 'srgb' ? 'srgb' : 'display-p3'
    const pixels = new ArrayPixels(decoded, space, orientation, toSpace)
    const notes = notesOf(header, 'exact', pixels.topCode, toSpace !== null)
    return { header, facts, pixels, notes }
  }
  const bitmap = decoded
  try {
    checkBitmap(bitmap, header)
    if (state === 'altered') throw new PhotoRefused({ code: 'altered pixels' })
    const space = spaceToRead(header, stripped ? 'exact' : state)
    const drawn = stripped ? 'srgb' : space
    const upright = turnedByBrowser(header) ? settled(bitmap, drawn) : bitmap
    const own = stripped ? toSpace : null
    const pixels = new BitmapPixels(upright, space, orientation, drawn, own)
    const notes = notesOf(header, stripped ? 'exact' : state, 255, own !== null)
    return { header, facts, pixels, notes }
  } catch (error) {
    bitmap.close()
    throw error
  }
}

/** The bytes of the file are not kept beyond this, but for what a library decodes. */
async function inspect(blob: Blob) {
  const bytes = new Uint8Array(await blob.arrayBuffer())
  const header = inspectPhoto(bytes)
  const exif =
    header.kind === 'tiff'
      ? factsFromTiff(bytes)
      : header.exif !== null
        ? factsFromExifBlock(header.exif.slice())
        : NO_FACTS
  return { header, exif, ...asStored(blob, bytes, header) }
}

function factsFromTiff(bytes: Uint8Array) {
  const { pictures, exif } = readTiffDirectories(bytes, FACT_TAGS)
  return factsFromTags((tag) => pictures[0]?.get(tag) ?? exif.get(tag))
}

/** Kinds whose EXIF orientation is set to "upright" in the file that is decoded; see turn.ts. */
const TURNED_HERE: readonly FileKind[] = ['jpeg', 'webp', 'tiff']

/**
 * What is given to the decoder: a photo whose EXIF says "turned" with that field set to "upright",
 * turned by our own code (browsers turn JPEG files each in their way, and WebP not at all); a photo
 * whose space is known here without its profile, so that its codes come through as they are stored,
 * in every engine.
 */
function asStored(blob: Blob, bytes: Uint8Array<ArrayBuffer>, header: PhotoHeader) {
  const ours = TURNED_HERE.includes(header.kind) || byLibrary(header)
  const field = ours ? orientationOf(header, bytes) : null
  const orientation = field?.orientation ?? 1
  const turned = field !== null && orientation !== 1
  // A PNG that a library decodes keeps its bytes: their checksums are looked at.
  if (turned && header.kind !== 'png') (header.kind === 'tiff' ? bytes : header.exif!)[field.at] = 1
  const kept = byLibrary(header) ? bytes : null
  const known = header.space !== 'other' || header.profile !== null
  const plain = known && kept === null ? withoutProfile(bytes, header.kind) : null
  const stripped = plain !== null
  const changed = turned || (stripped && plain !== bytes)
  const toDecode = changed ? new Blob([plain ?? bytes], { type: blob.type }) : blob
  return { toDecode, bytes: kept, orientation, stripped }
}

/** Browsers cut these to 8 bits or do not know them. */
const byLibrary = ({ kind, bitsPerSample }: PhotoHeader) =>
  kind === 'tiff' || (kind === 'png' && bitsPerSample === 16)

const orientationOf = ({ kind, exif }: PhotoHeader, bytes: Uint8Array | null = null) => {
  const block = kind === 'tiff' ? bytes : exif
  return block === null ? null : findOrientation(block)
}

/** HEIF containers are turned by their own fields, not by EXIF; PNG by the browser. */
function turnedByBrowser(header: PhotoHeader): boolean {
  if (header.turnedByContainer) return true
  return header.kind === 'png' && (orientationOf(header)?.orientation ?? 1) !== 1
}

/** A bitmap that the browser has yet to turn, turned once and for all; drawing does it right. */
function settled(bitmap: ImageBitmap, space: RgbSpace): ImageBitmap {
  const canvas = new OffscreenCanvas(bitmap.width, bitmap.height)
  const context = canvas.getContext('2d', { colorSpace: space, alpha: false })
  if (context === null) return bitmap
  context.drawImage(bitmap, 0, 0)
  bitmap.close()
  return canvas.transferToImageBitmap()
}

/** By the browser where it can and keeps every code; else by a library that is loaded for it. */
async function decodedBy(
  blob: Blob,
  bytes: Uint8Array | null,
  header: PhotoHeader,
): Promise<ImageBitmap | DecodedArray> {
  const { kind } = header
  if (bytes !== null && (kind === 'png' || kind === 'tiff')) {
    const { decodeArray } = await import('./decode-array.ts')
    return decodeArray(bytes, kind)
  }
  if (kind !== 'heic') return bitmapOf(blob, header)
  return createImageBitmap(blob).catch(async () => {
    const { decodeHeif } = await import('../heif/decode-heif.ts')
    const { width, height, rgba } = await decodeHeif(blob)
    return { width, height, channels: 4, codes: rgba } as const
  })
}

async function bitmapOf(blob: Blob, header: PhotoHeader): Promise<ImageBitmap> {
  try {
    return await createImageBitmap(blob)
  } catch {
    const megapixels = (header.size.width * header.size.height) / 1e6
    if (megapixels > LARGE_MEGAPIXELS) {
      throw new PhotoRefused({ code: 'out of memory', megapixels })
    }
    const { kind } = header
    throw new PhotoRefused({ code: EVERYWHERE.includes(kind) ? 'damaged' : 'cannot decode', kind })
  }
}

/** The decoder must give what the header promised, lying or standing. */
function checkBitmap(
  { width, height }: { width: number; height: number },
  { size, kind }: PhotoHeader,
): void {
  checkSize(width, height)
  const lying = width === size.width && height === size.height
  const standing = width === size.height && height === size.width
  if (!lying && !standing) throw new PhotoRefused({ code: 'damaged', kind })
}

/** A photo of a third space is read as the browser converts it to the widest canvas there is. */
function spaceToRead(header: PhotoHeader, state: DecoderState): RgbSpace {
  return header.space === 'srgb' || state === 'srgb only' ? 'srgb' : 'display-p3'
}

function notesOf(
  header: PhotoHeader,
  state: DecoderState,
  topCode: number,
  byProfile: boolean,
): PhotoNote[] {
  const notes: PhotoNote[] = []
  if (header.space !== 'srgb' && state === 'srgb only') notes.push({ code: 'wide gamut lost' })
  const { profileName } = header
  if (byProfile) notes.push({ code: 'own profile', profileName })
  else if (header.space === 'other') notes.push({ code: 'converted space', profileName })
  if (header.hasGainMap) notes.push({ code: 'gain map' })
  if (header.bitsPerSample > 8 && topCode === 255) {
    notes.push({ code: 'eight bits', bitsPerSample: header.bitsPerSample })
  }
  return notes
}
