import {
  CLIPPED,
  FLOOR,
  FLOOR_BLUE,
  FLOOR_GREEN,
  FLOOR_RED,
  type LightImage,
} from '../../light/image.ts'
import { measurePatch } from '../../light/patch.ts'
import type { PixelBox } from '../../light/region.ts'
import type { Triple } from '../../numerics/matrix3.ts'
import type { LightCrop, LightSource } from '../photo/light-source.ts'
import { type BlockFlags, CLIPPED_BLOCK, FLOOR_BLOCK, LIGHT_BLOCK } from '../photo/marks.ts'
import { stepFor } from '../photo/pixel-source.ts'
import { turningMatrix, uprightSize } from '../photo/turn.ts'
import { type ClipLevels, clipLevels } from './clip-levels.ts'
import type { DngHeader } from './dng-header.ts'

/** Level, 0..1, from which a block of a raw photo shows light. */
const LIGHT_LEVEL = 0.004

/** What of a {@link DngHeader} the pixels need. */
export type RawLayout = Pick<
  DngHeader,
  'rawWidth' | 'rawHeight' | 'active' | 'layout' | 'pattern' | 'black' | 'white' | 'orientation'
>

/**
 * The pixels of a raw photo in the camera's own channels: linear, black level taken off, not
 * balanced, upright. Of a Bayer pattern every 2x2 cell is one pixel, its two greens averaged: nothing
 * is interpolated, so that noise stays independent from pixel to pixel.
 */
export class RawPixels implements LightSource {
  readonly width: number
  readonly height: number
  readonly #samples: Uint16Array
  readonly #layout: RawLayout
  readonly #clip: ClipLevels

  /** @param samples as decodeRaw gives them */
  constructor(samples: Uint16Array, layout: RawLayout) {
    this.#samples = samples
    this.#layout = layout
    this.#clip = clipLevels(samples, layout)
    const { width, height } = uprightSize(this.#stored(), layout.orientation)
    this.width = width
    this.height = height
  }

  /** Size before turning. */
  #stored() {
    const { active, layout } = this.#layout
    const cell = layout === 'bayer' ? 2 : 1
    return {
      width: Math.floor((active.right - active.left) / cell),
      height: Math.floor((active.bottom - active.top) / cell),
    }
  }

  async crop(box: PixelBox, mostPixels: number): Promise<LightCrop> {
    const boxWidth = box.right - box.left
    const boxHeight = box.bottom - box.top
    const step = stepFor(box, mostPixels)
    const width = Math.ceil(boxWidth / step)
    const height = Math.ceil(boxHeight / step)
    const rgb = new Float32Array(3 * width * height)
    const flags = new Uint8Array(width * height)
    const read = this.#reader()
    const pixel = { rgb: [0, 0, 0] as [number, number, number], flags: 0 }
    for (let y = 0, i = 0; y < height; y++) {
      for (let x = 0; x < width; x++, i++) {
        read(box.left + x * step, box.top + y * step, pixel)
        rgb.set(pixel.rgb, 3 * i)
        flags[i] = pixel.flags
      }
    }
    const light: LightImage = { width, height, channels: 'camera', rgb, flags }
    const levelsIn = (region: Parameters<LightCrop['levelsIn']>[0]): Triple =>
      measurePatch(light, region).colour.mean
    return { light, left: box.left, top: box.top, step, levelsIn }
  }

  /** Looks at every pixel: for the marks over the preview. */
  blockFlags(block: number): BlockFlags {
    const columns = Math.ceil(this.width / block)
    const rows = Math.ceil(this.height / block)
    const flags = new Uint8Array(columns * rows)
    const read = this.#reader()
    const pixel = { rgb: [0, 0, 0] as [number, number, number], flags: 0 }
    for (let y = 0; y < this.height; y++) {
      const row = Math.floor(y / block) * columns
      for (let x = 0; x < this.width; x++) {
        read(x, y, pixel)
        const cell = row + Math.floor(x / block)
        if (pixel.flags & CLIPPED) flags[cell]! |= CLIPPED_BLOCK
        if (pixel.flags & FLOOR) flags[cell]! |= FLOOR_BLOCK
        if (pixel.rgb[0] > LIGHT_LEVEL) flags[cell]! |= LIGHT_BLOCK
      }
    }
    return { columns, rows, flags }
  }

  /** Reads one upright pixel into the object given: no allocation in the loops. */
  #reader(): (x: number, y: number, into: Pixel) => void {
    const { rawWidth, active, layout, pattern, black, white, orientation } = this.#layout
    const samples = this.#samples
    const clip = this.#clip
    const scale = white.map((w, i) => 1 / (w - black[i]!))
    const [a, b, c, d, e, f] = turningMatrix(this.#stored(), orientation)
    const floors = [FLOOR_RED, FLOOR_GREEN, FLOOR_BLUE]
    const greens = layout === 'bayer' ? 0.5 : 1
    return (x, y, into) => {
      // Back from upright to stored; pixel centres lie at one half.
      const sx = a * (x + 0.5 - e) + b * (y + 0.5 - f) - 0.5
      const sy = c * (x + 0.5 - e) + d * (y + 0.5 - f) - 0.5
      into.rgb[0] = 0
      into.rgb[1] = 0
      into.rgb[2] = 0
      let flags = 0
      const places = layout === 'bayer' ? 4 : 3
      for (let place = 0; place < places; place++) {
        const at =
          layout === 'bayer'
            ? (active.top + 2 * sy + (place >> 1)) * rawWidth + active.left + 2 * sx + (place & 1)
            : 3 * (sy * (active.right - active.left) + sx) + place
        const sample = samples[at]!
        const channel = layout === 'bayer' ? pattern[place as 0 | 1 | 2 | 3] : place
        if (sample >= clip[place]!) flags |= CLIPPED
        if (sample === 0 && black[place]! > 0) flags |= FLOOR | floors[channel]!
        const share = channel === 1 ? greens : 1
        into.rgb[channel as 0 | 1 | 2]! += share * (sample - black[place]!) * scale[place]!
      }
      into.flags = flags
    }
  }
}

interface Pixel {
  rgb: [number, number, number]
  flags: number
}
