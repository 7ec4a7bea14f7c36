import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { encodeTransfer, linearSrgbFromP3 } from '../../src/colour/rgb-spaces.ts'
import { meanCamera } from '../../src/light/simulate/mean-camera.ts'
import { deliveredP3, glowSpectrum } from '../../src/light/simulate/simulated-camera.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'

/** As phones deliver it, and a quarter of its pixels for tests of which they are no part. */
export const FULL_VIDEO = { width: 1280, height: 720 } as const
export const SMALL_VIDEO = { width: 640, height: 360 } as const

/** Codes 0..255 of a glow as the mean camera delivers it in sRGB, red at a linear level. */
export function glowCodes(temperatureK: number, redLevel = 0.6): Triple {
  const light = linearSrgbFromP3(deliveredP3(meanCamera('daylight'), glowSpectrum(temperatureK)))
  const code = (c: 0 | 1 | 2) =>
    Math.round(255 * encodeTransfer(Math.max(0, (light[c] * redLevel) / light[0])))
  return [code(0), code(1), code(2)]
}

/** BT.601 limited range to RGB in the whole numbers in which Chromium's converter reckons (libyuv). */
function decode(y: number, u: number, v: number): Triple {
  const cut = (value: number) => Math.min(255, Math.max(0, value))
  const luma = Math.floor((y * 0x0101 * 18997) / 65536) - 1160
  const [cu, cv] = [u - 128, v - 128]
  return [
    cut((luma + 102 * cv) >> 6),
    cut((luma - 25 * cu - 52 * cv) >> 6),
    cut((luma + 128 * cu) >> 6),
  ]
}

/** The YCbCr codes that come back nearest to R, G, B. */
function nearestYuv([r, g, b]: Triple): Triple {
  const y = 0.299 * r + 0.587 * g + 0.114 * b
  const [y0, u0, v0] = [
    Math.round(16 + (y * 219) / 255),
    Math.round(128 + (((b - y) / 1.772) * 224) / 255),
    Math.round(128 + (((r - y) / 1.402) * 224) / 255),
  ]
  let best: Triple = [y0, u0, v0]
  let least = Number.POSITIVE_INFINITY
  for (let dy = -2; dy <= 2; dy++)
    for (let du = -3; du <= 3; du++)
      for (let dv = -2; dv <= 2; dv++) {
        const codes: Triple = [y0 + dy, u0 + du, v0 + dv]
        const back = decode(...codes)
        // Red and green carry the temperature.
        const miss = 4 * (back[0] - r) ** 2 + 8 * (back[1] - g) ** 2 + (back[2] - b) ** 2
        if (miss < least) [best, least] = [codes, miss]
      }
  return best
}

/** A temporary video of some megabytes, to be removed after the tests. */
export interface GlowVideo {
  readonly file: string
  remove(): void
}

/**
 * A YUV4MPEG2 file of a glowing bar on black; the fake camera plays it over and over, at 15 frames a
 * second: decoding more on a machine without a GPU is what live tests would spend their time on.
 *
 * @param size width a multiple of 32, height of 36: the bar's edges then fall on whole pixels
 */
export function glowVideo(
  temperatureK: number,
  { width, height }: { width: number; height: number } = FULL_VIDEO,
): GlowVideo {
  const glow = nearestYuv(glowCodes(temperatureK))
  const frame = Buffer.concat([
    Buffer.alloc(width * height, 16),
    Buffer.alloc((width * height) / 2, 128),
  ])
  const [left, right] = [(5 * width) / 16, (11 * width) / 16]
  const [top, bottom] = [(13 * height) / 36, (23 * height) / 36]
  for (let row = top; row < bottom; row++)
    frame.fill(glow[0], row * width + left, row * width + right)
  // Colour at half the resolution both ways.
  for (let row = top / 2; row < bottom / 2; row++) {
    const chroma = width * height + row * (width / 2)
    frame.fill(glow[1], chroma + left / 2, chroma + right / 2)
    const second = chroma + (width * height) / 4
    frame.fill(glow[2], second + left / 2, second + right / 2)
  }
  const head = Buffer.from(`YUV4MPEG2 W${width} H${height} F15:1 Ip A1:1 C420jpeg\n`)
  const one = Buffer.concat([Buffer.from('FRAME\n'), frame])
  const folder = mkdtempSync(join(tmpdir(), 'glowbook-live-'))
  const file = join(folder, 'glow.y4m')
  writeFileSync(file, Buffer.concat([head, one, one, one]))
  return { file, remove: () => rmSync(folder, { recursive: true, force: true }) }
}
