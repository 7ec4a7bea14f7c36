import type { FileKind } from './file-kind.ts'

/** A camera's profile takes some kilobytes, a printer's table a megabyte; more holds up a decoder. */
export const MAX_PROFILE_BYTES = 1 << 22
/** Segments or chunks of a file: a large photo has some thousands. */
export const MAX_PIECES = 100_000

/** Most pixels that are decoded: a 100-megapixel bitmap takes 400 MB. */
export const MAX_MEGAPIXELS = 100
/** Largest file that is read into memory. */
export const MAX_FILE_MEGABYTES = 250

/** Why a file is not measured: codes and numbers; src/ui/words/photo-refusals.ts has the sentences. */
export type PhotoRefusal =
  | { readonly code: 'empty file' }
  | { readonly code: 'not a photo'; readonly kind: FileKind }
  | { readonly code: 'truncated'; readonly kind: FileKind; readonly bytes: number }
  | { readonly code: 'damaged'; readonly kind: FileKind }
  /** Four ink channels: a picture made for print. */
  | { readonly code: 'ink colours' }
  | { readonly code: 'no colour' }
  | { readonly code: 'no pixels'; readonly width: number; readonly height: number }
  | {
      readonly code: 'too many pixels'
      readonly megapixels: number
      readonly allowedMegapixels: number
    }
  | {
      readonly code: 'too many bytes'
      readonly megabytes: number
      readonly allowedMegabytes: number
    }
  | { readonly code: 'animated'; readonly kind: FileKind }
  /** Coded with PQ or HLG: the browser would squeeze it into the ordinary range in a way unknown. */
  | { readonly code: 'hdr only'; readonly transfer: 'pq' | 'hlg' }
  /** A raw file: it goes the raw way. */
  | { readonly code: 'raw file' }
  /** A raw file that is no DNG, or a DNG of a layout, compression or coding of its tones that is not read. */
  | {
      readonly code: 'foreign raw'
      readonly reason: 'no dng' | 'layout' | 'compression' | 'tone' | 'jpeg xl'
    }
  /** A sound file as far as its header goes, but this browser cannot decode it. */
  | { readonly code: 'cannot decode'; readonly kind: FileKind }
  | { readonly code: 'out of memory'; readonly megapixels: number }
  /** The browser alters pixels that a page reads back (fingerprint protection). */
  | { readonly code: 'altered pixels' }
  /** Shared memory is missing, which the raw decoder needs. */
  | { readonly code: 'raw needs isolation' }
  /** The practice photo is not on this device yet and there is no network. */
  | { readonly code: 'practice missing' }
  /** The raw decoder is not on this device yet and there is no network. */
  | { readonly code: 'raw decoder missing' }
  /** The HEIC decoder is not on this device yet and there is no network. */
  | { readonly code: 'heic decoder missing' }

/** A typed refusal as an exception. An abort is no refusal: it stays an AbortError. */
export class PhotoRefused extends Error {
  readonly refusal: PhotoRefusal
  constructor(refusal: PhotoRefusal) {
    super(`photo refused: ${refusal.code}`)
    this.name = 'PhotoRefused'
    this.refusal = refusal
  }
}
