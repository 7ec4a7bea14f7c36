import {
  CHROMINANCE_AC,
  CHROMINANCE_DC,
  CHROMINANCE_STEPS,
  type CodeTable,
  LUMINANCE_AC,
  LUMINANCE_DC,
  LUMINANCE_STEPS,
} from './encode-jpeg.data.ts'

export interface JpegOptions {
  /** 1..100; scales the example tables: below 50 by 50/q, above by 2 - q/50 (common practice). */
  readonly quality: number
  /** Colour at half resolution in both directions (4:2:0) instead of at full resolution (4:4:4). */
  readonly halvedColour?: boolean
  /** TIFF block for the EXIF segment. */
  readonly exif?: Uint8Array
  readonly iccProfile?: Uint8Array
}

/**
 * A baseline JPEG, for pictures that the project makes itself: practice photos, tests, benches.
 *
 * @param rgb 8-bit codes, interleaved, row by row, 3 a pixel
 * Sources: ISO/IEC 10918-1 annexes A, B, F and K; JFIF 1.02 (YCbCr of ITU-R BT.601, full range).
 */
export function encodeJpeg(
  rgb: Uint8Array,
  width: number,
  height: number,
  options: JpegOptions,
): Uint8Array<ArrayBuffer> {
  const halved = options.halvedColour === true
  const steps = [LUMINANCE_STEPS, CHROMINANCE_STEPS].map((table) =>
    scaledSteps(table, options.quality),
  ) as [number[], number[]]
  const planes = toPlanes(rgb, width, height, halved)
  const out = new Bytes()
  writeHeader(out, width, height, steps, options)
  const bits = new BitWriter(out)
  const tables = [
    [codeBook(LUMINANCE_DC), codeBook(LUMINANCE_AC)],
    [codeBook(CHROMINANCE_DC), codeBook(CHROMINANCE_AC)],
  ] as const
  const previous = [0, 0, 0]
  const block = new Float64Array(64)
  const unit = halved ? 16 : 8
  for (let top = 0; top < height; top += unit) {
    for (let left = 0; left < width; left += unit) {
      planes.forEach((plane, c) => {
        const across = halved && c === 0 ? 2 : 1
        const scale = halved && c > 0 ? 2 : 1
        for (let part = 0; part < across * across; part++) {
          const x = left / scale + 8 * (part % across)
          const y = top / scale + 8 * Math.floor(part / across)
          plane.readBlock(block, x, y)
          transformBlock(block)
          const kind = c === 0 ? 0 : 1
          previous[c] = writeBlock(bits, block, steps[kind], tables[kind], previous[c]!)
        }
      })
    }
  }
  bits.flush()
  out.u16(0xffd9)
  return out.done()
}

/** Zigzag position -> place in the block (T.81 figure A.6). */
const ZIGZAG = [
  0, 1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4, 5, 12, 19, 26, 33, 40, 48, 41, 34, 27, 20,
  13, 6, 7, 14, 21, 28, 35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23, 30, 37, 44, 51, 58, 59, 52,
  45, 38, 31, 39, 46, 53, 60, 61, 54, 47, 55, 62, 63,
]

const COSINE = Float64Array.from({ length: 64 }, (_, i) => {
  const [u, x] = [i >> 3, i & 7]
  return (u === 0 ? Math.SQRT1_2 : 1) * 0.5 * Math.cos(((2 * x + 1) * u * Math.PI) / 16)
})
const ROWS = new Float64Array(64)

/** Forward DCT in place: rows, then columns (T.81 A.3.3). */
function transformBlock(block: Float64Array): void {
  for (let y = 0; y < 8; y++) {
    for (let u = 0; u < 8; u++) {
      let sum = 0
      for (let x = 0; x < 8; x++) sum += COSINE[8 * u + x]! * block[8 * y + x]!
      ROWS[8 * y + u] = sum
    }
  }
  for (let u = 0; u < 8; u++) {
    for (let v = 0; v < 8; v++) {
      let sum = 0
      for (let y = 0; y < 8; y++) sum += COSINE[8 * v + y]! * ROWS[8 * y + u]!
      block[8 * v + u] = sum
    }
  }
}

class Plane {
  readonly width: number
  readonly height: number
  readonly values: Float32Array
  constructor(width: number, height: number) {
    this.width = width
    this.height = height
    this.values = new Float32Array(width * height)
  }
  /** Beyond the edge the last row and column are repeated. */
  readBlock(block: Float64Array, left: number, top: number): void {
    for (let y = 0; y < 8; y++) {
      const row = Math.min(top + y, this.height - 1) * this.width
      for (let x = 0; x < 8; x++) {
        block[8 * y + x] = this.values[row + Math.min(left + x, this.width - 1)]!
      }
    }
  }
}

/** Y, Cb, Cr, each shifted to be centred on 0. */
function toPlanes(rgb: Uint8Array, width: number, height: number, halved: boolean): Plane[] {
  const planes = [0, 1, 2].map(() => new Plane(width, height))
  for (let i = 0, p = 0; p < width * height; p++, i += 3) {
    const [r, g, b] = [rgb[i]!, rgb[i + 1]!, rgb[i + 2]!]
    const y = 0.299 * r + 0.587 * g + 0.114 * b
    planes[0]!.values[p] = y - 128
    planes[1]!.values[p] = (b - y) / 1.772
    planes[2]!.values[p] = (r - y) / 1.402
  }
  return halved ? [planes[0]!, halfOf(planes[1]!), halfOf(planes[2]!)] : planes
}

function halfOf(plane: Plane): Plane {
  const half = new Plane(Math.ceil(plane.width / 2), Math.ceil(plane.height / 2))
  const at = (x: number, y: number) =>
    plane.values[Math.min(y, plane.height - 1) * plane.width + Math.min(x, plane.width - 1)]!
  for (let y = 0; y < half.height; y++) {
    for (let x = 0; x < half.width; x++) {
      const sum =
        at(2 * x, 2 * y) + at(2 * x + 1, 2 * y) + at(2 * x, 2 * y + 1) + at(2 * x + 1, 2 * y + 1)
      half.values[y * half.width + x] = sum / 4
    }
  }
  return half
}

/** Steps of the DC terms at a quality. */
export const dcSteps = (quality: number): { readonly luma: number; readonly chroma: number } => ({
  luma: scaledSteps(LUMINANCE_STEPS, quality)[0]!,
  chroma: scaledSteps(CHROMINANCE_STEPS, quality)[0]!,
})

function scaledSteps(table: readonly number[], quality: number): number[] {
  const percent = quality < 50 ? 5000 / quality : 200 - 2 * quality
  return table.map((step) => Math.min(255, Math.max(1, Math.floor((step * percent + 50) / 100))))
}

/** Symbol -> code and its length (T.81 annex C). */
function codeBook({ counts, symbols }: CodeTable): Map<number, readonly [number, number]> {
  const book = new Map<number, readonly [number, number]>()
  let code = 0
  let at = 0
  counts.forEach((count, i) => {
    for (let k = 0; k < count; k++, at++) {
      book.set(Number.parseInt(symbols.slice(2 * at, 2 * at + 2), 16), [code++, i + 1])
    }
    code <<= 1
  })
  return book
}

type Book = ReturnType<typeof codeBook>

/** Writes one quantised block and returns its DC value (T.81 F.1.2). */
function writeBlock(
  bits: BitWriter,
  block: Float64Array,
  steps: readonly number[],
  [dcBook, acBook]: readonly [Book, Book],
  previousDc: number,
): number {
  const put = (book: Book, symbol: number) => {
    const [code, length] = book.get(symbol)!
    bits.put(code, length)
  }
  const putValue = (value: number, size: number) =>
    bits.put(value < 0 ? value + (1 << size) - 1 : value, size)
  const sizeOf = (value: number) => 32 - Math.clz32(Math.abs(value))
  const at = (k: number) => Math.round(block[ZIGZAG[k]!]! / steps[ZIGZAG[k]!]!)

  const dc = at(0)
  put(dcBook, sizeOf(dc - previousDc))
  putValue(dc - previousDc, sizeOf(dc - previousDc))
  let zeros = 0
  for (let k = 1; k < 64; k++) {
    const value = at(k)
    if (value === 0) {
      zeros++
      continue
    }
    for (; zeros > 15; zeros -= 16) put(acBook, 0xf0)
    put(acBook, (zeros << 4) | sizeOf(value))
    putValue(value, sizeOf(value))
    zeros = 0
  }
  if (zeros > 0) put(acBook, 0)
  return dc
}

function writeHeader(
  out: Bytes,
  width: number,
  height: number,
  steps: readonly [number[], number[]],
  { exif, iccProfile, halvedColour }: JpegOptions,
): void {
  out.u16(0xffd8)
  const segment = (marker: number, ...parts: (string | ArrayLike<number>)[]) => {
    const data = parts.flatMap((part) =>
      typeof part === 'string' ? [...part].map((c) => c.charCodeAt(0)) : Array.from(part),
    )
    out.u16(marker)
    out.u16(data.length + 2)
    out.push(data)
  }
  if (exif) segment(0xffe1, 'Exif\0\0', exif)
  else segment(0xffe0, 'JFIF\0', [1, 2, 0, 0, 1, 0, 1, 0, 0])
  if (iccProfile) segment(0xffe2, 'ICC_PROFILE\0', [1, 1], iccProfile)
  steps.forEach((table, i) => {
    segment(
      0xffdb,
      [i],
      ZIGZAG.map((place) => table[place]!),
    )
  })
  const luma = halvedColour ? 0x22 : 0x11
  const size = [height >> 8, height & 255, width >> 8, width & 255]
  segment(0xffc0, [8, ...size, 3, 1, luma, 0, 2, 0x11, 1, 3, 0x11, 1])
  const codes = [LUMINANCE_DC, LUMINANCE_AC, CHROMINANCE_DC, CHROMINANCE_AC]
  codes.forEach(({ counts, symbols }, i) => {
    const list = symbols.match(/../g)!.map((hex) => Number.parseInt(hex, 16))
    segment(0xffc4, [((i & 1) << 4) | (i >> 1)], counts, list)
  })
  segment(0xffda, [3, 1, 0x00, 2, 0x11, 3, 0x11, 0, 63, 0])
}

class Bytes {
  #data = new Uint8Array(1 << 16)
  #length = 0
  u8(value: number): void {
    if (this.#length === this.#data.length) {
      const more = new Uint8Array(2 * this.#data.length)
      more.set(this.#data)
      this.#data = more
    }
    this.#data[this.#length++] = value
  }
  u16(value: number): void {
    this.u8(value >> 8)
    this.u8(value & 255)
  }
  push(values: readonly number[]): void {
    for (const value of values) this.u8(value)
  }
  done(): Uint8Array<ArrayBuffer> {
    return this.#data.slice(0, this.#length)
  }
}

/** Entropy-coded bits; a byte of ones is followed by a zero byte (T.81 F.1.2.3). */
class BitWriter {
  #out: Bytes
  #bits = 0
  #count = 0
  constructor(out: Bytes) {
    this.#out = out
  }
  put(code: number, length: number): void {
    for (let i = length - 1; i >= 0; i--) {
      this.#bits = (this.#bits << 1) | ((code >> i) & 1)
      if (++this.#count === 8) {
        this.#out.u8(this.#bits)
        if (this.#bits === 0xff) this.#out.u8(0)
        this.#bits = 0
        this.#count = 0
      }
    }
  }
  /** The last byte is filled with ones. */
  flush(): void {
    if (this.#count > 0) this.put(0x7f, 8 - this.#count)
  }
}
