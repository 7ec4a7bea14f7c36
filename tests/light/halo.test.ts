import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { findHalo } from '../../src/light/halo.ts'
import type { StoredImage } from '../../src/light/image.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { normal } from './pictures.ts'

const [WIDTH, HEIGHT] = [80, 240]
const GLOW: Triple = [0.5, 0.07, 0.01]
/** What a kelvin changes at 1173 K (Wien's law, 600 and 532 nm, and 465 nm for blue), ln. */
const PER_KELVIN: Triple = [0.0174, 0.0203, 0.0235]

interface Bar {
  readonly thick: number
  /** Unsharp mask added to the codes of all channels alike: share, and its blur in pixels. */
  readonly sharpened?: { readonly share: number; readonly blur: number }
  /** How much hotter its edges are, K, and over how many pixels. */
  readonly hotter?: { readonly kelvin: number; readonly over: number }
}

const smooth = (codes: readonly number[], blur: number): number[] =>
  codes.map((_, y) => {
    let [sum, weights] = [0, 0]
    for (let k = -Math.ceil(3 * blur); k <= 3 * blur; k++) {
      const weight = Math.exp((-k * k) / (2 * blur * blur))
      sum += weight * codes[Math.min(Math.max(y + k, 0), HEIGHT - 1)]!
      weights += weight
    }
    return sum / weights
  })

/** A bar across the whole picture, with the code of each row in each channel, as its camera stores it. */
function photoOf({ thick, sharpened, hotter }: Bar): StoredImage {
  const top = (HEIGHT - thick) / 2
  const rows = ([0, 1, 2] as const).map((c) =>
    Array.from({ length: HEIGHT }, (_, y) => {
      const depth = Math.min(y - top, top + thick - 1 - y)
      if (depth < 0) return encodeTransfer(0.003)
      const kelvin = hotter ? hotter.kelvin * Math.exp(-depth / hotter.over) : 0
      return encodeTransfer(GLOW[c] * Math.exp(PER_KELVIN[c] * kelvin))
    }),
  )
  // A lens draws an edge over a pixel or two.
  const [red, green, blue] = rows.map((codes) => smooth(codes, 1)) as [number[], number[], number[]]
  // ITU-R BT.601, by which JPEG tells luma.
  const luma = red.map((r, y) => 0.299 * r + 0.587 * green[y]! + 0.114 * blue[y]!)
  const under = sharpened ? smooth(luma, sharpened.blur) : luma
  const noise = normal(1)
  const codes = new Float32Array(3 * WIDTH * HEIGHT)
  for (let y = 0, at = 0; y < HEIGHT; y++) {
    const added = (sharpened?.share ?? 0) * (luma[y]! - under[y]!)
    for (let x = 0; x < WIDTH; x++)
      for (const channel of [red, green, blue])
        codes[at++] = Math.round(255 * Math.max(channel[y]! + added + 0.004 * noise(), 0)) / 255
  }
  return { width: WIDTH, height: HEIGHT, space: 'display-p3', codes }
}

/** The halo that is found, and what ln(G/R) over the middle of the bar errs by. */
function look(bar: Bar) {
  const light = toLinearLight(photoOf(bar))
  const inside = bar.thick - 16
  const region = {
    shape: 'rectangle',
    x: 10,
    y: (HEIGHT - inside) / 2,
    width: WIDTH - 20,
    height: inside,
  } as const
  let [red, green] = [0, 0]
  for (let y = region.y; y < region.y + inside; y++)
    for (let x = region.x; x < region.x + region.width; x++) {
      red += light.rgb[3 * (y * WIDTH + x)]!
      green += light.rgb[3 * (y * WIDTH + x) + 1]!
    }
  const count = inside * region.width
  const error = Math.log(green / red) - Math.log(GLOW[1] / GLOW[0])
  return { halo: findHalo(light, region, red / count), error }
}

describe('the halo of a sharpened edge', () => {
  test.each([
    [40, 0.3, 8],
    [40, 0.8, 8],
    [80, 0.3, 20],
    [80, 0.8, 20],
    [160, 0.8, 20],
  ])('on a bar of %i pixels, by %f of a blur of %i pixels, is covered', (thick, share, blur) => {
    const { halo, error } = look({ thick, sharpened: { share, blur } })
    expect(error).toBeGreaterThan(0.005)
    expect(halo).not.toBeNull()
    expect(error).toBeLessThan(2 * halo!.lnRatio + 0.005)
    // And does not make a figure worthless that it hardly touches.
    expect(halo!.lnRatio).toBeLessThan(4 * error)
  })

  test('on a thick bar reaches no middle', () => {
    const { halo, error } = look({ thick: 160, sharpened: { share: 0.8, blur: 3 } })
    expect(halo?.lnRatio ?? 0).toBeLessThan(0.001)
    expect(Math.abs(error)).toBeLessThan(0.005)
  })

  test.each([
    ['as the lens draws it', {}],
    ['whose edges are hotter', { hotter: { kelvin: 10, over: 15 } }],
    ['whose edges are colder', { hotter: { kelvin: -20, over: 10 } }],
  ])('is not seen in a bar %s', (_, bar) => {
    for (const thick of [40, 80, 160]) expect(look({ thick, ...bar }).halo).toBeNull()
  })
})
