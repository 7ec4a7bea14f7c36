/** What is used of libheif-js 1.23: the glue of the WebAssembly build. */
declare module 'libheif-js/libheif-wasm/libheif.js' {
  interface Picture {
    get_width(): number
    get_height(): number
    is_primary(): boolean
    /** Fills RGBA codes of the file's own space, 8 bits, upright; null where decoding failed. */
    display(into: ImageDataLike, done: (filled: ImageDataLike | null) => void): void
  }
  interface ImageDataLike {
    readonly data: Uint8ClampedArray
    readonly width: number
    readonly height: number
  }
  interface LibHeif {
    HeifDecoder: new () => { decode(file: Uint8Array): Picture[] }
  }
  export default function libheif(options: { readonly wasmBinary: ArrayBuffer }): LibHeif
}
