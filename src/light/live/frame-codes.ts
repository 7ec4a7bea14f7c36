import type { StoredImage } from '../image.ts'
import type { PixelBox } from '../region.ts'

/** How a video frame's luma and chroma become RGB (ITU-T H.273 names as WebCodecs uses them). */
export interface FrameColour {
  /** 'bt709', 'smpte170m', 'bt470bg', 'rgb'; anything else counts as BT.601. */
  readonly matrix: string
  readonly fullRange: boolean
}

/** Pixels of a box of a frame as the frame holds them. Plain data: goes to a worker as it is. */
export interface FramePixels {
  readonly format: 'I420' | 'NV12' | 'RGBA' | 'BGRA'
  readonly width: number
  readonly height: number
  readonly bytes: Uint8Array
  /** Offset and bytes a row of each plane. */
  readonly planes: readonly { readonly offset: number; readonly stride: number }[]
  readonly colour: FrameColour
}

/** Luma weights of red and blue: ITU-R BT.709-6 and BT.601-7, table 3 each. */
const WEIGHTS = { bt709: [0.2126, 0.0722], bt601: [0.299, 0.114] } as const

/**
 * RGB codes 0..1 of every `step`-th pixel of a frame's box, row by row.
 *
 * YCbCr to RGB with the frame's own matrix and range (BT.601-7, 2.5; limited range: luma 16..235,
 * chroma 16..240). Values beyond the range are cut, as any player does: there the camera clipped.
 */
export function frameCodes(pixels: FramePixels, step = 1): StoredImage {
  const width = Math.floor(pixels.width / step)
  const height = Math.floor(pixels.height / step)
  const codes = new Float32Array(3 * width * height)
  const { format, bytes, planes, colour } = pixels
  const [first, second, third] = planes
  if (!first) throw new RangeError('a frame without planes')
  if (format === 'RGBA' || format === 'BGRA') {
    const [r, b] = format === 'RGBA' ? [0, 2] : [2, 0]
    for (let y = 0, at = 0; y < height; y++) {
      let i = first.offset + y * step * first.stride
      for (let x = 0; x < width; x++, at += 3, i += 4 * step) {
        codes[at] = bytes[i + r]! / 255
        codes[at + 1] = bytes[i + 1]! / 255
        codes[at + 2] = bytes[i + b]! / 255
      }
    }
    return { width, height, space: 'srgb', codes }
  }
  const chroma = chromaPlaces(format, second, third)
  const [kr, kb] = colour.matrix === 'bt709' ? WEIGHTS.bt709 : WEIGHTS.bt601
  const kg = 1 - kr - kb
  const yScale = colour.fullRange ? 1 / 255 : 1 / 219
  const cScale = colour.fullRange ? 1 / 255 : 1 / 224
  const black = colour.fullRange ? 0 : 16
  const redOfV = 2 * (1 - kr) * cScale
  const blueOfU = 2 * (1 - kb) * cScale
  for (let y = 0, at = 0; y < height; y++) {
    const line = first.offset + y * step * first.stride
    const half = (y * step) >> 1
    const lineU = chroma.u.offset + half * chroma.u.stride
    const lineV = chroma.v.offset + half * chroma.v.stride
    for (let x = 0; x < width; x++, at += 3) {
      const c = ((x * step) >> 1) * chroma.between
      const luma = (bytes[line + x * step]! - black) * yScale
      const r = luma + redOfV * (bytes[lineV + c]! - 128)
      const b = luma + blueOfU * (bytes[lineU + c]! - 128)
      codes[at] = cut(r)
      codes[at + 1] = cut((luma - kr * r - kb * b) / kg)
      codes[at + 2] = cut(b)
    }
  }
  return { width, height, space: 'srgb', codes }
}

const cut = (v: number) => Math.max(0, Math.min(v, 1))

type Plane = FramePixels['planes'][number]

function chromaPlaces(format: 'I420' | 'NV12', second?: Plane, third?: Plane) {
  if (format === 'NV12' && second)
    return { u: second, v: { ...second, offset: second.offset + 1 }, between: 2 }
  if (format === 'I420' && second && third) return { u: second, v: third, between: 1 }
  throw new RangeError(`${format} without its chroma planes`)
}

/** The box grown to even edges: chroma at half resolution cannot be cut elsewhere. */
export function evenBox(box: PixelBox, width: number, height: number): PixelBox {
  return {
    left: box.left & ~1,
    top: box.top & ~1,
    right: Math.min((box.right + 1) & ~1, width & ~1),
    bottom: Math.min((box.bottom + 1) & ~1, height & ~1),
  }
}
