import { P3_FROM_SRGB } from '../../colour/rgb-spaces.ts'
import { BLUR_REACH, HALVED_COLOUR } from '../blur-reach.ts'
import type { FramePixels } from './frame-codes.ts'
import { CODE_STEPS, LIGHT_OF_CODE } from './frame-mean.ts'
import { liveBlur } from './live-blur.ts'

/** What became of a cell of a live picture. */
export const LIVE_READ = 0
/** Nothing glows here. */
export const LIVE_DARK = 1
export const LIVE_CLIPPED = 2
export const LIVE_EDGE = 3

/** Weight of a new frame in each cell's mean: eight frames make most of it. */
const NEW_FRAME = 0.22
/** Noise of such a mean over that of one frame: sqrt(w / (2 - w)). */
const MEAN_NOISE = Math.sqrt(NEW_FRAME / (2 - NEW_FRAME))
/** Cells darker than this share of the brightest do not glow with it, or are not seen in. */
const LEAST_SHARE = 0.05
const DARK_LEVEL = 0.004
/** G/R in linear P3 of a glow of 2900 K: what is greener is lit by something else. */
const MOST_GREEN = 0.55
/** Pixels left out along outlines until a blur was measured. */
const USUAL_MARGIN = 8
/** How far outside of the half level LEAST_SHARE of it lies, standard deviations of the blur. */
const FAINT_OUTSIDE = 1.64
/** Frames from one measured blur to the next, and the weight of a new one. */
const BLUR_FRAMES = 15
const NEW_BLUR = 0.4
/** Blur beyond this is no outline of a piece. */
const MOST_MARGIN = 40
/** Every so many-th cell tells the noise. */
const NOISE_STEP = 7
/** Luma weights of red and blue (ITU-R BT.709-6, BT.601-7). */
const WEIGHTS = { bt709: [0.2126, 0.0722], bt601: [0.299, 0.114] } as const

/**
 * Cells of a live picture, each a mean over the last frames in linear light. All arrays are kept from
 * frame to frame.
 */
export class LiveCells {
  columns = 0
  rows = 0
  /** Side of a cell, pixels of the frame. */
  side = 1
  /** ln(G/R) in linear P3; NaN where not read. */
  lnRatio = new Float32Array(0)
  /** One of LIVE_READ, LIVE_DARK, LIVE_CLIPPED, LIVE_EDGE. */
  state = new Uint8Array(0)
  /** Width left out along outlines, pixels of the frame: as far as the blur reaches in this picture. */
  marginPixels = USUAL_MARGIN
  /** Standard uncertainty of a usual cell's ln(G/R) by noise; NaN before the second frame. */
  lnNoise = Number.NaN

  /** Mean linear P3 red of each cell. */
  get red(): Float32Array {
    return this.#red
  }

  #red = new Float32Array(0)
  #green = new Float32Array(0)
  #depth = new Uint8Array(0)
  #frames = 0

  /** @param longest most cells along the width */
  constructor(private readonly longest = 320) {}

  /** Forgets the former frames: another camera, another exposure. */
  clear(): void {
    this.#frames = 0
  }

  add(pixels: FramePixels): void {
    this.#fit(pixels)
    const weight = this.#frames === 0 ? 1 : NEW_FRAME
    if (pixels.format === 'RGBA' || pixels.format === 'BGRA') this.#addRgb(pixels, weight)
    else this.#addYuv(pixels, weight)
    if (this.#frames % BLUR_FRAMES === 0) this.#measureMargin(pixels)
    this.#frames++
    this.#judge()
  }

  #measureMargin(pixels: FramePixels): void {
    const blur = liveBlur(pixels)
    if (Number.isNaN(blur)) return
    const margin = (BLUR_REACH + FAINT_OUTSIDE) * blur + HALVED_COLOUR
    const weight = this.#frames === 0 ? 1 : NEW_BLUR
    this.marginPixels += weight * (Math.min(margin, MOST_MARGIN) - this.marginPixels)
  }

  #fit({ width, height }: FramePixels): void {
    // Even, so that every sample has a chroma value of its own.
    const side = Math.max(2, 2 * Math.ceil(width / this.longest / 2))
    const columns = Math.floor(width / side)
    const rows = Math.floor(height / side)
    if (columns === this.columns && rows === this.rows && side === this.side) return
    const n = columns * rows
    Object.assign(this, { columns, rows, side })
    this.lnRatio = new Float32Array(n)
    this.state = new Uint8Array(n)
    this.#red = new Float32Array(n)
    this.#green = new Float32Array(n)
    this.#depth = new Uint8Array(n)
    this.#frames = 0
  }

  #addYuv({ format, bytes, planes, colour }: FramePixels, weight: number): void {
    const { columns, rows, side, state } = this
    const [luma, second, third] = planes
    if (!luma || !second) throw new RangeError(`${format} without its chroma planes`)
    const between = format === 'NV12' ? 2 : 1
    const u = second
    const v = format === 'NV12' ? { ...second, offset: second.offset + 1 } : third!
    const [kr, kb] = WEIGHTS[colour.matrix === 'bt709' ? 'bt709' : 'bt601']
    const kg = 1 - kr - kb
    const steps = CODE_STEPS - 1
    const yScale = steps / (colour.fullRange ? 255 : 219)
    const cScale = steps / (colour.fullRange ? 255 : 224)
    const black = colour.fullRange ? 0 : 16
    const redOfV = 2 * (1 - kr) * cScale
    const greenOfV = (-2 * (1 - kr) * kr * cScale) / kg
    const greenOfU = (-2 * (1 - kb) * kb * cScale) / kg
    // Two samples each way, a pair in the middle of the cell.
    const half = (side >> 1) & ~1
    for (let row = 0, at = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++, at++) {
        let [red, green, top] = [0, 0, 0]
        for (let dy = 0; dy <= half; dy += Math.max(half, 1)) {
          const y = row * side + dy
          for (let dx = 0; dx <= half; dx += Math.max(half, 1)) {
            const x = column * side + dx
            const c = (y >> 1) * u.stride + (x >> 1) * between
            const cv = bytes[v.offset + (y >> 1) * v.stride + (x >> 1) * between]! - 128
            const cu = bytes[u.offset + c]! - 128
            const l = (bytes[luma.offset + y * luma.stride + x]! - black) * yScale
            const r = (l + redOfV * cv + 0.5) | 0
            const g = (l + greenOfV * cv + greenOfU * cu + 0.5) | 0
            if (r > top) top = r
            red += LIGHT_OF_CODE[Math.min(Math.max(r, 0), steps)]!
            green += LIGHT_OF_CODE[Math.min(Math.max(g, 0), steps)]!
          }
        }
        const samples = half === 0 ? 1 : 4
        state[at] = top >= TOP ? LIVE_CLIPPED : LIVE_READ
        this.#mix(at, red / samples, green / samples, weight)
      }
    }
  }

  #addRgb({ format, bytes, planes }: FramePixels, weight: number): void {
    const { columns, rows, side, state } = this
    const { offset, stride } = planes[0]!
    const first = format === 'RGBA' ? 0 : 2
    const scale = (CODE_STEPS - 1) / 255
    for (let row = 0, at = 0; row < rows; row++) {
      for (let column = 0; column < columns; column++, at++) {
        let [red, green, top] = [0, 0, 0]
        for (let dy = 0; dy < 2; dy++) {
          let i = offset + (row * side + dy) * stride + 4 * column * side
          for (let dx = 0; dx < 2; dx++, i += 4) {
            const r = bytes[i + first]!
            if (r > top) top = r
            red += LIGHT_OF_CODE[(r * scale + 0.5) | 0]!
            green += LIGHT_OF_CODE[(bytes[i + 1]! * scale + 0.5) | 0]!
          }
        }
        state[at] = top >= 255 ? LIVE_CLIPPED : LIVE_READ
        this.#mix(at, red / 4, green / 4, weight)
      }
    }
  }

  /** Linear sRGB into the cell's mean of linear P3; blue has no part in its red and green. */
  #mix(at: number, red: number, green: number, weight: number): void {
    const [[rr, rg], [gr, gg]] = P3_FROM_SRGB
    this.#red[at]! += weight * (rr * red + rg * green - this.#red[at]!)
    this.#green[at]! += weight * (gr * red + gg * green - this.#green[at]!)
  }

  #judge(): void {
    const { columns, rows, side, state, lnRatio } = this
    const red = this.#red
    const depth = this.#depth
    let brightest = 0
    for (const level of red) if (level > brightest) brightest = level
    const least = Math.max(DARK_LEVEL, LEAST_SHARE * brightest)
    const margin = Math.ceil(this.marginPixels / side)
    // Steps to the next cell that does not glow, no further than the margin (chessboard distance).
    for (let row = 0, at = 0; row < rows; row++)
      for (let column = 0; column < columns; column++, at++) {
        if (!(red[at]! > least)) depth[at] = 0
        else {
          let d = margin + 1
          if (column > 0) d = Math.min(d, depth[at - 1]! + 1)
          if (row > 0) {
            d = Math.min(d, depth[at - columns]! + 1)
            if (column > 0) d = Math.min(d, depth[at - columns - 1]! + 1)
            if (column < columns - 1) d = Math.min(d, depth[at - columns + 1]! + 1)
          }
          depth[at] = d
        }
      }
    let [changes, count] = [0, 0]
    for (let row = rows - 1, at = depth.length - 1; row >= 0; row--)
      for (let column = columns - 1; column >= 0; column--, at--) {
        let d = depth[at]!
        if (column < columns - 1) d = Math.min(d, depth[at + 1]! + 1)
        if (row < rows - 1) {
          d = Math.min(d, depth[at + columns]! + 1)
          if (column < columns - 1) d = Math.min(d, depth[at + columns + 1]! + 1)
          if (column > 0) d = Math.min(d, depth[at + columns - 1]! + 1)
        }
        depth[at] = d
        const green = this.#green[at]!
        if (d === 0 || green > MOST_GREEN * red[at]!) state[at] = LIVE_DARK
        else if (state[at] === LIVE_READ && d <= margin) state[at] = LIVE_EDGE
        if (state[at] !== LIVE_READ) {
          lnRatio[at] = Number.NaN
          continue
        }
        const ratio = Math.log(green / red[at]!)
        const change = ratio - lnRatio[at]!
        if (at % NOISE_STEP === 0 && !Number.isNaN(change)) {
          changes += change * change
          count++
        }
        lnRatio[at] = ratio
      }
    // A mean moves by the weight times what one frame differs from it, and both are noisy.
    const frameNoise = (Math.sqrt(changes / count) / NEW_FRAME) * Math.sqrt(1 - NEW_FRAME / 2)
    this.lnNoise = count > 0 && this.#frames > 1 ? frameNoise * MEAN_NOISE : Number.NaN
  }
}

/** 8-bit code 254.5 in steps of the table. */
const TOP = (254.5 / 255) * (CODE_STEPS - 1)
