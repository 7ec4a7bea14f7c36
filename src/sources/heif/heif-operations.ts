/** A decoded picture, upright: RGBA codes of the file's own space. */
export interface HeifPixels {
  readonly width: number
  readonly height: number
  readonly rgba: Uint8ClampedArray<ArrayBuffer>
}

/** What the HEIF worker answers; null where the file cannot be decoded. */
export type HeifOperations = {
  decode: readonly [Blob, HeifPixels | null]
}
