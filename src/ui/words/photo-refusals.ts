import type { FileKind } from '../../sources/files/file-kind.ts'
import { type PhotoRefusal, PhotoRefused } from '../../sources/files/photo-refusal.ts'
import type { PhotoNote } from '../../sources/photo/photo.ts'
import type { Notice } from './estimate.ts'

const KIND_NAMES: Record<FileKind, string> = {
  jpeg: 'JPEG',
  png: 'PNG',
  webp: 'WebP',
  gif: 'GIF',
  heic: 'HEIC',
  avif: 'AVIF',
  tiff: 'TIFF',
  bmp: 'BMP',
  jxl: 'JPEG XL',
  video: 'video',
  pdf: 'PDF',
  empty: 'empty',
  unknown: 'unknown',
}

/**
 * Why a file was not opened: what was given, what is allowed, what to do.
 *
 * @param error what opening rejected with; anything but a refusal is told as an unexpected failure
 * @param name of the file, as the person knows it
 */
/** The same of a photo slot's `refusal`; null where there is none. */
export const photoRefusalNotice = (
  refusal: { readonly error: unknown; readonly name: string } | null | undefined,
): Notice | null => (refusal ? refusalSentence(refusal.error, refusal.name) : null)

export function refusalSentence(error: unknown, name: string): Notice {
  const [title, todo] =
    error instanceof PhotoRefused
      ? words(error.refusal, name)
      : [
          `${name} could not be read`,
          'Something unexpected went wrong. Try again; if it stays, open the photo on its own after reloading the app.',
        ]
  return { weight: 'stop', title, todo }
}

function words(refusal: PhotoRefusal, name: string): readonly [title: string, todo: string] {
  switch (refusal.code) {
    case 'empty file':
      return [
        `${name} is empty`,
        'The file holds no bytes. If it comes from the cloud, wait until it is on the phone, then open it again.',
      ]
    case 'not a photo':
      return [
        refusal.kind === 'unknown'
          ? `${name} is no photo`
          : `${name} is a ${KIND_NAMES[refusal.kind]} file, not a photo`,
        refusal.kind === 'video'
          ? 'A video is read under Log, Recordings. Here choose a still photo of the glow.'
          : 'Glowbook reads JPEG, HEIC, PNG, TIFF, WebP and, where the browser can, AVIF; raw photos as DNG. Choose one of these.',
      ]
    case 'truncated':
      return [
        `${name} is cut off`,
        `The ${KIND_NAMES[refusal.kind]} file ends too early, after ${bytes(refusal.bytes)}: part of the picture is missing. Copy or send it again from where it was taken.`,
      ]
    case 'damaged':
      return [
        `${name} is damaged`,
        'What the file says of itself and what is in it do not agree. Take the original from the camera, not an edited copy.',
      ]
    case 'ink colours':
      return [
        `${name} is made for print`,
        'Its colours are four inks (CMYK), from which the light cannot be told. Use the camera’s own photo.',
      ]
    case 'no colour':
      return [
        `${name} has no colour`,
        'A black-and-white photo cannot be read: the temperature is in the colour. Switch the camera to colour.',
      ]
    case 'no pixels':
      return [
        `${name} has no pixels`,
        `The file says ${refusal.width} × ${refusal.height} pixels. Choose another photo.`,
      ]
    case 'too many pixels':
      return [
        `${name} is too large: ${refusal.megapixels.toFixed(0)} megapixels`,
        `Up to ${refusal.allowedMegapixels} megapixels can be read on a phone. Set the camera to a smaller photo size; 12 megapixels are plenty.`,
      ]
    case 'too many bytes':
      return [
        `${name} is too large: ${refusal.megabytes.toFixed(0)} MB`,
        `Up to ${refusal.allowedMegabytes} MB can be read. Choose a photo of ordinary size.`,
      ]
    case 'animated':
      return [
        `${name} moves`,
        `It is an animated ${KIND_NAMES[refusal.kind]} file. Glowbook reads one still photo; take one.`,
      ]
    case 'hdr only':
      return [
        `${name} is coded for bright screens only`,
        `Its levels (${refusal.transfer === 'pq' ? 'PQ' : 'HLG'}) cannot be turned back into light here. Switch HDR off in the camera and take the photo again.`,
      ]
    case 'raw file':
      return [`${name} is a raw photo`, 'Open it as a raw photo (DNG).']
    case 'foreign raw':
      return [
        refusal.reason === 'no dng'
          ? `${name} is a raw file, but no DNG`
          : `${name} is a DNG of a kind that is not read`,
        refusal.reason === 'jpeg xl'
          ? 'It is compressed as JPEG XL, which the decoder here does not know. Set the camera to lossless DNG, or use its JPEG.'
          : refusal.reason === 'tone'
            ? 'Its levels are bent by a table that the decoder here does not follow. Set the camera to uncompressed or lossless DNG, or use its JPEG.'
            : refusal.reason === 'compression'
              ? 'Its compression is too new for the decoder here. Set the camera to uncompressed or lossless DNG, or use its JPEG.'
              : 'Raw photos are read as DNG, with a red-green-blue pattern or three colours a pixel. Set the camera to DNG, or use its JPEG.',
      ]
    case 'cannot decode':
      return cannotDecode(refusal.kind, name)
    case 'out of memory':
      return [
        `${name} does not fit into memory`,
        `${refusal.megapixels.toFixed(0)} megapixels were too many for this device. Close other apps and tabs, or take a smaller photo; 12 megapixels are plenty.`,
      ]
    case 'altered pixels':
      return [
        'This browser changes the pixels that an app reads',
        'A protection against tracking adds noise to pictures, and colours cannot be measured with it. Allow this page to read pictures (canvas) in the browser’s privacy settings, or use another browser.',
      ]
    case 'raw needs isolation':
      return [
        'Raw photos cannot be read in this window',
        'The raw decoder needs memory shared between threads, which this browser gives only to an installed or reloaded app. Reload once; if it stays, use the JPEG: everything else works.',
      ]
    case 'practice missing':
      return [
        'The practice photo is not on this device yet',
        'It is fetched once (80 kB) and then works offline. Connect to the network and try again.',
      ]
    case 'heic decoder missing':
      return [
        'The HEIC decoder is not on this device yet',
        'It is fetched once (0.5 MB) and then works offline. Connect to the network and open the photo again, or set the camera to JPEG.',
      ]
    case 'raw decoder missing':
      return [
        'The raw decoder is not on this device yet',
        'It is fetched once (0.6 MB) and then works offline. Connect to the network and open the photo again, or use the JPEG.',
      ]
  }
}

function cannotDecode(kind: FileKind, name: string): readonly [title: string, todo: string] {
  switch (kind) {
    case 'heic':
      return [
        `${name} is a HEIC file of a kind that is not read`,
        'Set the camera to JPEG (often called “most compatible”).',
      ]
    case 'tiff':
      return [
        `${name} is a TIFF of a kind that is not read`,
        'TIFF is read with red, green and blue as whole numbers of 8 or 16 bits, in strips, uncompressed or packed by LZW or deflate. Save it so, or use the JPEG.',
      ]
    case 'jxl':
      return ['JPEG XL photos are not read', 'Set the camera to JPEG, or save the photo as JPEG.']
    default:
      return [
        `This browser cannot open ${KIND_NAMES[kind]} photos`,
        'Set the camera to JPEG, or try another browser.',
      ]
  }
}

function bytes(count: number): string {
  if (count < 1000) return `${count} bytes`
  return count < 1e6 ? `${(count / 1e3).toFixed(0)} kB` : `${(count / 1e6).toFixed(1)} MB`
}

/** What is worth saying about a photo that was opened. */
export function photoNotice(note: PhotoNote): Notice {
  switch (note.code) {
    case 'gain map':
      return {
        weight: 'note',
        title: 'The ordinary picture of an HDR photo was read',
        todo: 'The photo carries a second layer for bright screens, which is left alone. Switching HDR off in the camera keeps the tone curve simpler.',
      }
    case 'converted space':
      return {
        weight: 'warn',
        title: `Unusual colour space${note.profileName === '' ? '' : `: ${note.profileName}`}`,
        todo: 'The photo was converted, so clipped parts may not show as such. Set the camera to sRGB or Display P3.',
      }
    case 'own profile':
      return {
        weight: 'note',
        title: `Read by its own colour profile${note.profileName === '' ? '' : `: ${note.profileName}`}`,
        todo: 'Neither sRGB nor Display P3: primaries and curve come from the file.',
      }
    case 'wide gamut lost':
      return {
        weight: 'warn',
        title: 'This browser cuts off wide colours',
        todo: 'The photo is in a wide colour space, and the dull reds of a glow are lost on the way in. Use another browser, or set the camera to sRGB.',
      }
    case 'no colour matrix':
      return {
        weight: 'warn',
        title: 'This raw photo states no colour matrix',
        todo: 'It is read by the sensor’s own colours, which differ more from camera to camera. A known heat of this camera helps most.',
      }
    case 'eight bits':
      return {
        weight: 'note',
        title: `${note.bitsPerSample} bits a channel, read as 8`,
        todo: 'Browsers hand out pixels with 8 bits. For finer steps use a raw photo (DNG).',
      }
  }
}
