import type LibRaw from 'libraw-wasm'
import { PhotoRefused } from '../files/photo-refusal.ts'
import type { DngHeader } from './dng-header.ts'

/**
 * Settings of LibRaw for what is not a mosaic: camera channels, 16 bits, linear, nothing balanced,
 * scaled or brightened. Its types know two numbers of the tone curve, the code reads six.
 */
const UNTOUCHED = {
  outputColor: 0,
  outputBps: 16,
  gamm: [1, 1, 0, 0, 0, 0] as unknown as [number, number],
  noAutoScale: true,
  noAutoBright: true,
  userMul: [1, 1, 1, 1] as [number, number, number, number],
  useCameraMatrix: 0,
}

/**
 * Decodes the samples of a DNG. LibRaw runs in a worker of its own that is ended afterwards: that
 * alone gives its memory (256 MB and more) back.
 *
 * @param bytes the whole file; detached afterwards
 * @returns Bayer: the mosaic with its masked border, linearised, black level still in. Linear: three
 *   channels a pixel of the lit part, black level taken off already (LibRaw does not give it
 *   otherwise).
 * @throws PhotoRefused
 */
export async function decodeRaw(
  bytes: Uint8Array<ArrayBuffer>,
  header: DngHeader,
  onLoaded: () => void = () => undefined,
): Promise<Uint16Array> {
  const decoder = await startDecoder()
  try {
    await decoder.open(bytes, UNTOUCHED)
    onLoaded()
    return header.layout === 'bayer'
      ? await mosaicOf(decoder, header)
      : await channelsOf(decoder, header)
  } catch (error) {
    if (error instanceof PhotoRefused) throw error
    throw new PhotoRefused({ code: 'foreign raw', reason: 'compression' })
  } finally {
    decoder.dispose()
  }
}

async function startDecoder(): Promise<LibRaw> {
  try {
    const { default: Decoder } = await import('libraw-wasm')
    const decoder = new Decoder()
    // A worker whose script cannot be fetched says so nowhere else.
    const { worker } = decoder as unknown as { worker: Worker }
    const broken = new Promise<never>((_, reject) => {
      worker.onerror = () => reject(new Error('no decoder'))
    })
    // Asking an empty decoder for metadata answers once it is loaded, or fails.
    await Promise.race([decoder.metadata(false), broken])
    return decoder
  } catch {
    throw new PhotoRefused({
      code: globalThis.crossOriginIsolated ? 'raw decoder missing' : 'raw needs isolation',
    })
  }
}

/** What comes back is held against the file: LibRaw also answers on garbage and on what is cut off. */
async function mosaicOf(decoder: LibRaw, header: DngHeader): Promise<Uint16Array> {
  const found = await decoder.rawImageData()
  const fits =
    found?.raw_width === header.rawWidth &&
    found.raw_height === header.rawHeight &&
    found.data.length === header.rawWidth * header.rawHeight
  if (!fits) throw new PhotoRefused({ code: 'damaged', kind: 'tiff' })
  return found.data
}

async function channelsOf(decoder: LibRaw, { active }: DngHeader): Promise<Uint16Array> {
  const found = await decoder.imageData()
  const width = active.right - active.left
  const height = active.bottom - active.top
  const fits =
    found?.width === width &&
    found.height === height &&
    found.colors === 3 &&
    found.data instanceof Uint16Array &&
    found.data.length === 3 * width * height
  if (!fits) throw new PhotoRefused({ code: 'damaged', kind: 'tiff' })
  return found.data as Uint16Array
}
