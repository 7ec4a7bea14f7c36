/// <reference path="./libheif-js.d.ts" />
import libheif from 'libheif-js/libheif-wasm/libheif.js'
import wasmUrl from 'libheif-js/libheif-wasm/libheif.wasm?url'
import { PhotoRefused } from '../files/photo-refusal.ts'
import { answerCalls } from '../worker-answers.ts'
import type { HeifOperations, HeifPixels } from './heif-operations.ts'

answerCalls<HeifOperations>({
  decode: async (file) => {
    const [wasmBinary, bytes] = await Promise.all([decoderBinary(), file.arrayBuffer()])
    const { HeifDecoder } = libheif({ wasmBinary })
    const pictures = new HeifDecoder().decode(new Uint8Array(bytes))
    const picture = pictures.find((one) => one.is_primary()) ?? pictures[0]
    if (picture === undefined) return null
    const [width, height] = [picture.get_width(), picture.get_height()]
    const rgba = new Uint8ClampedArray(4 * width * height)
    return new Promise<HeifPixels | null>((resolve) => {
      picture.display({ data: rgba, width, height }, (filled) =>
        resolve(filled === null ? null : { width, height, rgba }),
      )
    })
  },
})

async function decoderBinary(): Promise<ArrayBuffer> {
  const response = await fetch(wasmUrl).catch(() => null)
  if (!response?.ok) throw new PhotoRefused({ code: 'heic decoder missing' })
  return response.arrayBuffer()
}
