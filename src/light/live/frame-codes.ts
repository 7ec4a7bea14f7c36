import { decodeTransfer, encodeTransfer } from '../../colour/rgb-spaces.ts'
import type { StoredImage } from '../image.ts'
import type { PixelBox } from '../region.ts'

/** How a video frame's luma and chroma become RGB (ITU-T H.273 names as WebCodecs uses them). */
export interface FrameColour {
  /** 'bt709', 'bt2020-ncl', 'smpte170m', 'bt470bg', 'rgb'; anything else counts as BT.601. */
  readonly matrix: string
  readonly fullRange: boolean
  /** 'bt2020' is brought to the primaries of sRGB; all others differ little from them. */
  readonly primaries?: string
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

/** Luma weights of red and blue: ITU-R BT.709-6, BT.2020-2, table 4, and BT.601-7, table 3. */
const WEIGHTS = {
  bt709: [0.2126, 0.0722],
  'bt2020-ncl': [0.2627, 0.0593],
  bt601: [0.299, 0.114],
} as const

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
  const { matrix } = colour
  const [kr, kb] = WEIGHTS[matrix === 'bt709' || matrix === 'bt2020-ncl' ? matrix : 'bt601']
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
  if (colour.primaries === 'bt2020') narrow(codes)
  return { width, height, space: 'srgb', codes }
}

/** Linear BT.2020 to linear BT.709 (ITU-R BT.2407-0, 2.1). */
const TO_709 = [
  [1.6605, -0.5876, -0.0728],
  [-0.1246, 1.1329, -0.0083],
  [-0.0182, -0.1006, 1.1187],
] as const

/** Codes of BT.2020 primaries to those of sRGB, in place; what lies outside is cut. */
function narrow(codes: Float32Array): void {
  for (let i = 0; i < codes.length; i += 3) {
    const [r, g, b] = [0, 1, 2].map((c) => decodeTransfer(codes[i + c]!)) as [
      number,
      number,
      number,
    ]
    for (let c = 0; c < 3; c++) {
      const [x, y, z] = TO_709[c]!
      codes[i + c] = cut(encodeTransfer(x * r + y * g + z * b))
    }
  }
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
