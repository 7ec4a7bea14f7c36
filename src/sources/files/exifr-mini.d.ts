/** The small build of exifr (JPEG and HEIC, no tag dictionaries): what is used of it. */
declare module 'exifr/dist/mini.esm.mjs' {
  export function parse(
    file: Uint8Array | ArrayBuffer,
    options: Readonly<Record<string, unknown>>,
  ): Promise<Record<string, Record<string, unknown>> | undefined>
}
