import { describe, expect, test } from 'vitest'
import { encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import { findHalo } from '../../src/light/halo.ts'
import type { StoredImage } from '../../src/light/image.ts'
import { measureGlow } from '../../src/light/measure-glow.ts'
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

describe('a rim', () => {
  interface Drawn {
    /** ln R of the rim above the middle, and ln(G/R) over that. */
    readonly overshoot?: number
    readonly slope?: number
    readonly green?: number
    readonly thick?: number
    /** By which rays differ, ln R at the rim, to either side. */
    readonly scatter?: number
  }
  /** Linear light of a bar across the picture without noise, whose rim falls to half in so many pixels. */
  function drawn({ overshoot = 0.2, slope = 1, green = 0.07, thick = 80, scatter = 0 }: Drawn) {
    const half = Math.min(6, thick / 12)
    // The rim is looked at over two pixels.
    const rim = (depth: number) => 2 ** -((Math.max(depth - 4, 0) / half) ** 1.5)
    const share = (rim(4) + rim(5)) / 2
    const rgb = new Float32Array(3 * WIDTH * HEIGHT).fill(1e-4)
    const top = (HEIGHT - thick) / 2
    for (let y = top; y < top + thick; y++)
      for (let x = 0; x < WIDTH; x++) {
        const over = rim(Math.min(y - top, top + thick - 1 - y)) / share
        const red = (overshoot + (x % 2 === 0 ? scatter : -scatter)) * over
        rgb.set(
          [0.5 * Math.exp(red), green * Math.exp(red + slope * overshoot * over), 0.005],
          3 * (y * WIDTH + x),
        )
      }
    return {
      width: WIDTH,
      height: HEIGHT,
      channels: 'display-p3',
      rgb,
      flags: new Uint8Array(WIDTH * HEIGHT),
    } as const
  }
  const regionOf = (width: number) =>
    ({ shape: 'rectangle', x: (WIDTH - width) / 2, y: 112, width, height: 16 }) as const
  const shown = (of: Drawn, width = 60) => findHalo(drawn(of), regionOf(width), 0.5) !== null

  test('is one from 6 % in red on', () => {
    expect([0.057, 0.063].map((overshoot) => shown({ overshoot }))).toEqual([false, true])
  })

  test('is drawn where its ratio moves as that of no heat: by Wien a sixth of red, allowed -0.15 to 0.4', () => {
    expect([-0.16, -0.14, 0.38, 0.42].map((slope) => shown({ slope }))).toEqual([
      true,
      false,
      false,
      true,
    ])
  })

  test('is not looked for where coding smears green, below code 25 of 255', () => {
    // IEC 61966-2-1: codes 24 and 26 are 0.0091 and 0.0103 of full light.
    expect([0.0093, 0.0101].map((green) => shown({ green }))).toEqual([false, true])
  })

  test('is seen by twelve rays at least, over twelve pixels of depth', () => {
    // Rays leave from six tenths of the region's width.
    expect([19, 20].map((width) => shown({}, width))).toEqual([false, true])
    expect([22, 24].map((thick) => shown({ thick }))).toEqual([false, true])
  })

  test('stands five standard uncertainties of its mean out of what rays differ by', () => {
    let [clear, unclear] = [0, 0.6]
    for (let i = 0; i < 16; i++) {
      const middle = (clear + unclear) / 2
      if (shown({ scatter: middle })) clear = middle
      else unclear = middle
    }
    // Half of 36 rays up, half down: the mean of e^(+-a) is cosh a; standard uncertainty a / sqrt 35.
    const times = (0.2 + Math.log(Math.cosh(clear))) / (clear / Math.sqrt(35))
    expect(Math.abs(times - 5)).toBeLessThan(0.25)
  })

  test('is worth a word from a hundredth in ln(G/R) of the region on', () => {
    const region = regionOf(60)
    const { lnRatio } = findHalo(drawn({}), region, 0.5)!
    const told = (share: number) => {
      const image = drawn({ slope: (share * 0.01) / lnRatio })
      return measureGlow(image, region, { chromaSubsampled: false }).findings.some(
        ({ code }) => code === 'halo',
      )
    }
    expect([0.95, 1.05].map(told)).toEqual([false, true])
  })
})
