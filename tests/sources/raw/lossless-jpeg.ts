/**
 * Samples as a lossless JPEG of one component, as DNG files carry them (compression 7).
 *
 * Source: ISO/IEC 10918-1 annex H, process 14, predictor 1 (the sample to the left).
 */
export function losslessJpeg(samples: Uint16Array, width: number, height: number): Uint8Array {
  const precision = 16
  const out: number[] = [0xff, 0xd8]
  const segment = (marker: number, data: readonly number[]) =>
    out.push(0xff, marker, (data.length + 2) >> 8, (data.length + 2) & 255, ...data)
  segment(0xc3, [precision, height >> 8, height & 255, width >> 8, width & 255, 1, 1, 0x11, 0])
  // 17 size categories, all with codes of 5 bits.
  const counts = new Array(16).fill(0)
  counts[4] = 17
  segment(0xc4, [0, ...counts, ...Array.from({ length: 17 }, (_, i) => i)])
  segment(0xda, [1, 1, 0, 1, 0, 0])

  let [bits, count] = [0, 0]
  const put = (value: number, length: number) => {
    for (let i = length - 1; i >= 0; i--) {
      bits = (bits << 1) | ((value >> i) & 1)
      if (++count === 8) {
        out.push(bits)
        if (bits === 0xff) out.push(0)
        bits = 0
        count = 0
      }
    }
  }
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      const at = y * width + x
      const predicted =
        x > 0 ? samples[at - 1]! : y > 0 ? samples[at - width]! : 1 << (precision - 1)
      // Differences are modulo 65536, from -32767 to 32768.
      let difference = (samples[at]! - predicted) & 0xffff
      if (difference > 32768) difference -= 65536
      const size = difference === 32768 ? 16 : 32 - Math.clz32(Math.abs(difference))
      put(size, 5)
      if (size < 16) put(difference < 0 ? difference + (1 << size) - 1 : difference, size)
    }
  }
  if (count > 0) put(0x7f, 8 - count)
  out.push(0xff, 0xd9)
  return Uint8Array.from(out)
}
