/// <reference path="./exifr-mini.d.ts" />
import { NO_FACTS, type PhotoFacts, soundFacts } from './photo-facts.ts'

/** Tags by number (Exif 2.32, tables 4 to 8): the small build has no names. */
const TAG = {
  make: 271,
  model: 272,
  software: 305,
  exposureTime: 33434,
  fNumber: 33437,
  exposureProgram: 34850,
  isoSpeed: 34855,
  dateTimeOriginal: 36867,
  offsetTimeOriginal: 36881,
  lightSource: 37384,
  flash: 37385,
  subSecTimeOriginal: 37521,
  whiteBalance: 41987,
  lensModel: 42036,
} as const
/** All tags that facts are made from; none of them is about the place. */
export const FACT_TAGS: readonly number[] = Object.values(TAG)

/** Only these directories and tags are read. Location lies in one of its own, which is left alone. */
const OPTIONS = {
  tiff: true,
  ifd0: { pick: [TAG.make, TAG.model, TAG.software] },
  exif: {
    pick: [
      TAG.exposureTime,
      TAG.fNumber,
      TAG.exposureProgram,
      TAG.isoSpeed,
      TAG.dateTimeOriginal,
      TAG.offsetTimeOriginal,
      TAG.lightSource,
      TAG.flash,
      TAG.subSecTimeOriginal,
      TAG.whiteBalance,
      TAG.lensModel,
    ],
  },
  gps: false,
  interop: false,
  ifd1: false,
  makerNote: false,
  userComment: false,
  xmp: false,
  icc: false,
  iptc: false,
  jfif: false,
  ihdr: false,
  translateKeys: false,
  translateValues: false,
  reviveValues: false,
  sanitize: false,
  mergeOutput: false,
  silentErrors: true,
}

/**
 * The facts of a bare EXIF block (TIFF structure, as JPEG, PNG and WebP carry it).
 *
 * @returns no facts where the block cannot be read
 */
export function factsFromExifBlock(block: Uint8Array): Promise<PhotoFacts> {
  return factsFromFile(asJpeg(block))
}

/**
 * The facts of a JPEG or HEIC file.
 *
 * @returns no facts where there are none or they cannot be read: a photo is measurable without
 */
export async function factsFromFile(bytes: Uint8Array): Promise<PhotoFacts> {
  try {
    const { parse } = await import('exifr/dist/mini.esm.mjs')
    const { ifd0 = {}, exif = {} } = (await parse(bytes, OPTIONS)) ?? {}
    return factsFromTags((tag) => ifd0[tag] ?? exif[tag])
  } catch {
    return NO_FACTS
  }
}

/** Facts from the values of EXIF tags, whoever read them. */
export function factsFromTags(get: (tag: number) => unknown): PhotoFacts {
  const flash = firstOf(get(TAG.flash))
  return soundFacts({
    takenAt: isoFromExif(
      get(TAG.dateTimeOriginal),
      get(TAG.subSecTimeOriginal),
      get(TAG.offsetTimeOriginal),
    ),
    exposureSeconds: firstOf(get(TAG.exposureTime)),
    iso: firstOf(get(TAG.isoSpeed)),
    fNumber: firstOf(get(TAG.fNumber)),
    whiteBalance: ['automatic', 'manual'][Number(firstOf(get(TAG.whiteBalance)))],
    lightSource: firstOf(get(TAG.lightSource)),
    // Bit 0 of the flash tag: fired.
    flashFired: typeof flash === 'number' ? (flash & 1) === 1 : null,
    exposureProgram: firstOf(get(TAG.exposureProgram)),
    make: cleanText(get(TAG.make)),
    model: cleanText(get(TAG.model)),
    lens: cleanText(get(TAG.lensModel)),
    software: cleanText(get(TAG.software)),
  })
}

const firstOf = (value: unknown) =>
  ArrayBuffer.isView(value) || Array.isArray(value) ? (value as unknown as unknown[])[0] : value

/** `2026:02:03 04:05:06` -> `2026-02-03T04:05:06`; an unset clock (blanks, zeros) gives null. */
function isoFromExif(dateTime: unknown, subSeconds: unknown, offset: unknown): string | null {
  const parts = /^(\d{4}):(\d\d):(\d\d) (\d\d:\d\d:\d\d)/.exec(String(dateTime ?? ''))
  if (parts === null || parts[1] === '0000') return null
  const digits = /^\d{1,3}/.exec(String(subSeconds ?? '').trim())
  const zone = /^(Z|[+-]\d\d:\d\d)/.exec(String(offset ?? '').trim())
  const fraction = digits === null ? '' : `.${digits[0]}`
  return `${parts[1]}-${parts[2]}-${parts[3]}T${parts[4]}${fraction}${zone?.[0] ?? ''}`
}

/**
 * Text up to its first NUL, which ends it (Exif 2.32, 4.6.2: what stands behind is left over from
 * something else), without control characters, at most 80 characters; null where nothing is left.
 */
function cleanText(value: unknown): string | null {
  if (typeof value !== 'string') return null
  const [stated] = value.split('\0') as [string]
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out
  const text = stated.replace(/[\u0000-\u001f\u007f-\u009f\u200b-\u200f\u202a-\u202e\ufeff]/g, ' ')
  const short = text.replace(/\s+/g, ' ').trim().slice(0, 80).trim()
  return short === '' ? null : short
}

/** An EXIF block in the smallest file that the reader takes: SOI, APP1, EOI. */
function asJpeg(block: Uint8Array): Uint8Array {
  const start = String.fromCharCode(...block.subarray(0, 6)) === 'Exif\0\0' ? 6 : 0
  const tiff = block.subarray(start, start + 65_000)
  const length = tiff.length + 8
  const file = new Uint8Array(length + 6)
  file.set([0xff, 0xd8, 0xff, 0xe1, length >> 8, length & 255, 0x45, 0x78, 0x69, 0x66, 0, 0])
  file.set(tiff, 12)
  file.set([0xff, 0xd9], length + 4)
  return file
}
