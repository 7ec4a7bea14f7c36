/**
 * A baseline JPEG decoder for tests under Node, where no browser decodes. Written after ITU-T T.81
 * (Huffman decoding F.2.2, inverse transform A.3.3 in floating point) and T.871 (JFIF: YCbCr,
 * chroma sample positions, here with linear interpolation between them as browsers do it).
 * Progressive, arithmetic, 12-bit, CMYK: refused.
 */
export interface DecodedJpeg {
  readonly width: number
  readonly height: number
  /** RGB interleaved, 0..255. */
  readonly data: Uint8Array
}

/** Largest code, and place of the first symbol less its code, by length (T.81, F.2.2.3). */
interface HuffmanTable {
  readonly largest: Int32Array
  readonly offset: Int32Array
  readonly symbols: Uint8Array
}

interface Component {
  readonly id: number
  readonly h: number
  readonly v: number
  readonly quantisation: number
  dc: number
  ac: number
  previous: number
  columns: number
  rows: number
  plane: Float32Array
}

export function decodeJpeg(bytes: Uint8Array): DecodedJpeg {
  const quantisation: Uint16Array[] = []
  const huffman = new Map<number, HuffmanTable>()
  let components: Component[] = []
  let width = 0
  let height = 0
  let restart = 0
  const u16 = (at: number) => (bytes[at]! << 8) | bytes[at + 1]!
  if (u16(0) !== 0xffd8) throw new Error('not a JPEG')
  for (let at = 2; at < bytes.length; ) {
    if (bytes[at] !== 0xff) throw new Error(`no marker at ${at}`)
    const marker = bytes[at + 1]!
    const length = u16(at + 2)
    const end = at + 2 + length
    let p = at + 4
    if (marker === 0xdb) {
      while (p < end) {
        const wide = bytes[p]! >> 4
        const table = new Uint16Array(64)
        quantisation[bytes[p++]! & 15] = table
        for (let k = 0; k < 64; k++, p += wide ? 2 : 1) table[k] = wide ? u16(p) : bytes[p]!
      }
    } else if (marker === 0xc4) {
      while (p < end) {
        const key = bytes[p++]!
        const counts = bytes.subarray(p, p + 16)
        p += 16
        const largest = new Int32Array(17).fill(-1)
        const offset = new Int32Array(17)
        let code = 0
        let place = 0
        for (let bits = 1; bits <= 16; bits++, code <<= 1) {
          const count = counts[bits - 1]!
          offset[bits] = place - code
          place += count
          code += count
          if (count > 0) largest[bits] = code - 1
        }
        const symbols = bytes.slice(p, p + place)
        p += place
        huffman.set(key, { largest, offset, symbols })
      }
    } else if (marker === 0xc0 || marker === 0xc1) {
      height = u16(p + 1)
      width = u16(p + 3)
      components = Array.from({ length: bytes[p + 5]! }, (_, i) => {
        const q = p + 6 + 3 * i
        const [h, v] = [bytes[q + 1]! >> 4, bytes[q + 1]! & 15]
        const plane = new Float32Array(0)
        return {
          id: bytes[q]!,
          h,
          v,
          quantisation: bytes[q + 2]!,
          dc: 0,
          ac: 0,
          previous: 0,
          columns: 0,
          rows: 0,
          plane,
        }
      })
    } else if (marker === 0xdd) {
      restart = u16(p)
    } else if (marker >= 0xc2 && marker <= 0xcf && marker !== 0xc8 && marker !== 0xcc) {
      throw new Error('only baseline JPEG')
    } else if (marker === 0xda) {
      for (let k = 0; k < bytes[p]!; k++) {
        const component = components.find((c) => c.id === bytes[p + 1 + 2 * k])!
        component.dc = bytes[p + 2 + 2 * k]! >> 4
        component.ac = 16 | (bytes[p + 2 + 2 * k]! & 15)
      }
      decodeScan(bytes, end, { width, height, components, quantisation, huffman, restart })
      return toRgb(width, height, components)
    }
    at = end
  }
  throw new Error('no picture')
}

const ZIGZAG = [
  0, 1, 8, 16, 9, 2, 3, 10, 17, 24, 32, 25, 18, 11, 4, 5, 12, 19, 26, 33, 40, 48, 41, 34, 27, 20,
  13, 6, 7, 14, 21, 28, 35, 42, 49, 56, 57, 50, 43, 36, 29, 22, 15, 23, 30, 37, 44, 51, 58, 59, 52,
  45, 38, 31, 39, 46, 53, 60, 61, 54, 47, 55, 62, 63,
]

function decodeScan(
  bytes: Uint8Array,
  start: number,
  frame: {
    width: number
    height: number
    components: Component[]
    quantisation: Uint16Array[]
    huffman: Map<number, HuffmanTable>
    restart: number
  },
): void {
  const { components } = frame
  const hMax = Math.max(...components.map((c) => c.h))
  const vMax = Math.max(...components.map((c) => c.v))
  const across = Math.ceil(frame.width / (8 * hMax))
  const down = Math.ceil(frame.height / (8 * vMax))
  for (const c of components) {
    c.columns = across * c.h * 8
    c.rows = down * c.v * 8
    c.plane = new Float32Array(c.columns * c.rows)
  }
  let at = start
  let buffer = 0
  let held = 0
  const bit = (): number => {
    if (held === 0) {
      buffer = bytes[at++] ?? 0
      if (buffer === 0xff) {
        if (bytes[at] === 0) at++
        else at-- // a marker: feed it as padding
      }
      held = 8
    }
    return (buffer >> --held) & 1
  }
  const receive = (count: number): number => {
    let value = 0
    for (let k = 0; k < count; k++) value = (value << 1) | bit()
    return count > 0 && value < 1 << (count - 1) ? value - (1 << count) + 1 : value
  }
  const symbol = (table: HuffmanTable): number => {
    let code = 0
    for (let length = 1; length <= 16; length++) {
      code = (code << 1) | bit()
      if (code <= table.largest[length]!) return table.symbols[code + table.offset[length]!]!
    }
    throw new Error('bad Huffman code')
  }
  const block = new Float64Array(64)
  for (let mcu = 0; mcu < across * down; mcu++) {
    if (frame.restart > 0 && mcu > 0 && mcu % frame.restart === 0) {
      held = 0
      while (!(bytes[at] === 0xff && bytes[at + 1]! >= 0xd0 && bytes[at + 1]! <= 0xd7)) at++
      at += 2
      for (const c of components) c.previous = 0
    }
    for (const c of components) {
      const q = frame.quantisation[c.quantisation]!
      const ac = frame.huffman.get(c.ac)!
      for (let v = 0; v < c.v; v++) {
        for (let h = 0; h < c.h; h++) {
          block.fill(0)
          c.previous += receive(symbol(frame.huffman.get(c.dc)!))
          block[0] = c.previous * q[0]!
          for (let k = 1; k < 64; k++) {
            const runSize = symbol(ac)
            if (runSize === 0) break
            k += runSize >> 4
            if (runSize !== 0xf0) block[ZIGZAG[k]!] = receive(runSize & 15) * q[k]!
          }
          const x = ((mcu % across) * c.h + h) * 8
          const y = (Math.floor(mcu / across) * c.v + v) * 8
          inverseTransform(block, c.plane, y * c.columns + x, c.columns)
        }
      }
    }
  }
}

/** Cosines of A.3.3 with their weights: COSINE[u * 8 + x]. */
const COSINE = Float64Array.from({ length: 64 }, (_, i) => {
  const u = i >> 3
  return ((u === 0 ? Math.SQRT1_2 : 1) / 2) * Math.cos(((2 * (i & 7) + 1) * u * Math.PI) / 16)
})

function inverseTransform(
  block: Float64Array,
  out: Float32Array,
  at: number,
  stride: number,
): void {
  const rows = new Float64Array(64)
  for (let v = 0; v < 8; v++) {
    // Most rows of frequencies are empty.
    let last = 7
    while (last >= 0 && block[v * 8 + last] === 0) last--
    for (let u = 0; u <= last; u++) {
      const weight = block[v * 8 + u]!
      for (let x = 0; x < 8; x++) rows[v * 8 + x]! += weight * COSINE[u * 8 + x]!
    }
  }
  for (let y = 0; y < 8; y++) {
    for (let x = 0; x < 8; x++) {
      let sum = 0
      for (let v = 0; v < 8; v++) sum += rows[v * 8 + x]! * COSINE[v * 8 + y]!
      out[at + y * stride + x] = Math.min(Math.max(Math.round(sum + 128), 0), 255)
    }
  }
}

function toRgb(width: number, height: number, components: Component[]): DecodedJpeg {
  if (components.length !== 1 && components.length !== 3) throw new Error('only grey or YCbCr')
  const hMax = Math.max(...components.map((c) => c.h))
  const vMax = Math.max(...components.map((c) => c.v))
  const sample = (c: Component, x: number, y: number): number => {
    if (c.h === hMax && c.v === vMax) return c.plane[y * c.columns + x]!
    // Chroma samples lie in the middle of the pixels that they stand for (T.871, 6.1).
    const usedColumns = Math.ceil((width * c.h) / hMax)
    const usedRows = Math.ceil((height * c.v) / vMax)
    const sx = Math.min(Math.max(((x + 0.5) * c.h) / hMax - 0.5, 0), usedColumns - 1)
    const sy = Math.min(Math.max(((y + 0.5) * c.v) / vMax - 0.5, 0), usedRows - 1)
    const [x0, y0] = [Math.floor(sx), Math.floor(sy)]
    const [x1, y1] = [Math.min(x0 + 1, usedColumns - 1), Math.min(y0 + 1, usedRows - 1)]
    const at = (px: number, py: number) => c.plane[py * c.columns + px]!
    const top = at(x0, y0) + (sx - x0) * (at(x1, y0) - at(x0, y0))
    const bottom = at(x0, y1) + (sx - x0) * (at(x1, y1) - at(x0, y1))
    return top + (sy - y0) * (bottom - top)
  }
  const data = new Uint8Array(3 * width * height)
  const code = (v: number) => Math.min(Math.max(Math.round(v), 0), 255)
  const [first, second, third] = components
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 3) {
      const Y = sample(first!, x, y)
      const cb = second ? sample(second, x, y) - 128 : 0
      const cr = third ? sample(third, x, y) - 128 : 0
      data[i] = code(Y + 1.402 * cr)
      data[i + 1] = code(Y - 0.344136 * cb - 0.714136 * cr)
      data[i + 2] = code(Y + 1.772 * cb)
    }
  }
  return { width, height, data }
}
