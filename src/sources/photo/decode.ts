import type { RgbSpace } from '../../light/image.ts'
import { factsFromExifBlock } from '../files/exif.ts'
import { findOrientation } from '../files/exif-orientation.ts'
import type { FileKind } from '../files/file-kind.ts'
import { checkSize, inspectPhoto, type PhotoHeader } from '../files/inspect.ts'
import { NO_FACTS, type PhotoFacts } from '../files/photo-facts.ts'
import { PhotoRefused } from '../files/photo-refusal.ts'
import { withoutProfile } from '../files/without-profile.ts'
import type { HeifPixels } from '../heif/heif-operations.ts'
import { ArrayPixels } from './array-pixels.ts'
import { BitmapPixels } from './bitmap-pixels.ts'
import { type DecoderState, probeDecoder } from './decoder-probe.ts'
import type { PhotoNote } from './photo.ts'
import type { PhotoPixels } from './pixel-source.ts'

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
  const { header, exif, toDecode, orientation, stripped } = await inspect(blob)
  const [decoded, state, facts] = await Promise.all([
    decodedBy(toDecode, header),
    probeDecoder(),
    exif,
  ])
  if (!(decoded instanceof ImageBitmap)) {
    checkBitmap(decoded, header)
    // Its codes have seen no canvas: they are those of the file, whatever the browser does to others.
    const space = header.space === 'srgb' ? 'srgb' : 'display-p3'
    return {
      header,
      facts,
      pixels: new ArrayPixels(decoded, space),
      notes: notesOf(header, 'exact'),
    }
  }
  const bitmap = decoded
  try {
    checkBitmap(bitmap, header)
    if (state === 'altered') throw new PhotoRefused({ code: 'altered-pixels' })
    const space = spaceToRead(header, stripped ? 'exact' : state)
    const drawn = stripped ? 'srgb' : space
    const upright = turnedByBrowser(header) ? settled(bitmap, drawn) : bitmap
    const pixels = new BitmapPixels(upright, space, orientation, drawn)
    return { header, facts, pixels, notes: notesOf(header, stripped ? 'exact' : state) }
  } catch (error) {
    bitmap.close()
    throw error
  }
}

/** The bytes of the file are not kept beyond this. */
async function inspect(blob: Blob) {
  const bytes = new Uint8Array(await blob.arrayBuffer())
  const header = inspectPhoto(bytes)
  const exif =
    header.exif !== null ? factsFromExifBlock(header.exif.slice()) : Promise.resolve(NO_FACTS)
  return { header, exif, ...asStored(blob, bytes, header) }
}

/** Kinds whose EXIF orientation is set to "upright" in the file that is decoded; see turn.ts. */
const TURNED_HERE: readonly FileKind[] = ['jpeg', 'webp']

/**
 * What is given to the decoder: a photo whose EXIF says "turned" with that field set to "upright",
 * turned by our own code (browsers turn JPEG files each in their way, and WebP not at all); a photo of a known space without its profile, so that its
 * codes come through as they are stored, in every engine.
 */
function asStored(blob: Blob, bytes: Uint8Array<ArrayBuffer>, header: PhotoHeader) {
  const field = TURNED_HERE.includes(header.kind) ? orientationOf(header) : null
  const orientation = field?.orientation ?? 1
  const pieces = header.space === 'other' ? null : withoutProfile(bytes, header.kind)
  const stripped = pieces !== null
  if (field === null || orientation === 1) {
    if (!stripped || pieces.length === 1) return { toDecode: blob, orientation, stripped }
  } else header.exif![field.at] = 1
  const toDecode = new Blob(pieces ?? [bytes], { type: blob.type })
  return { toDecode, orientation, stripped }
}

const orientationOf = ({ exif }: PhotoHeader) => (exif === null ? null : findOrientation(exif))

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

/** By the browser where it can; HEIC else by a decoder that is loaded for it. */
async function decodedBy(blob: Blob, header: PhotoHeader): Promise<ImageBitmap | HeifPixels> {
  if (header.kind !== 'heic') return bitmapOf(blob, header)
  return createImageBitmap(blob).catch(async () => {
    const { decodeHeif } = await import('../heif/decode-heif.ts')
    return decodeHeif(blob)
  })
}

async function bitmapOf(blob: Blob, header: PhotoHeader): Promise<ImageBitmap> {
  try {
    return await createImageBitmap(blob)
  } catch {
    const megapixels = (header.size.width * header.size.height) / 1e6
    if (megapixels > LARGE_MEGAPIXELS) {
      throw new PhotoRefused({ code: 'out-of-memory', megapixels })
    }
    const { kind } = header
    throw new PhotoRefused({ code: EVERYWHERE.includes(kind) ? 'damaged' : 'cannot-decode', kind })
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
  return header.space === 'srgb' || state === 'srgb-only' ? 'srgb' : 'display-p3'
}

function notesOf(header: PhotoHeader, state: DecoderState): PhotoNote[] {
  const notes: PhotoNote[] = []
  if (header.space !== 'srgb' && state === 'srgb-only') notes.push({ code: 'wide-gamut-lost' })
  if (header.space === 'other') {
    notes.push({ code: 'converted-space', profileName: header.profileName })
  }
  if (header.hasGainMap) notes.push({ code: 'gain-map' })
  if (header.bitsPerSample > 8) {
    notes.push({ code: 'eight-bits', bitsPerSample: header.bitsPerSample })
  }
  return notes
}
