/**
 * Responses that cameras have, drawn at random: light 0..1 to what the nominal decoding makes of the
 * stored code. Contrast at mid-grey is log-normal about 1.16 with a standard deviation of the
 * logarithm of 0.151, as 123 measured curves near the nominal one have it; the shapes are none of the
 * prior's.
 */
import { decodeTransfer, encodeTransfer } from '../../src/colour/rgb-spaces.ts'
import type { Random } from './random.ts'

export type Bend = (light: number) => number

const MEDIAN_CONTRAST = 1.16
const LN_CONTRAST_SD = 0.151
const MID_GREY = 0.18

/**
 * The default tone curve of the DNG reference rendering (DNG SDK 1.3, dng_render.cpp,
 * dng_tone_curve_acr3_default), read at some of its 1025 places; x in 1/1024.
 */
const DNG_DEFAULT: readonly (readonly [number, number])[] = [
  [4, 0.00314],
  [8, 0.00623],
  [12, 0.01012],
  [16, 0.01485],
  [24, 0.02643],
  [32, 0.04002],
  [48, 0.07057],
  [64, 0.10433],
  [96, 0.17901],
  [128, 0.25961],
  [160, 0.33531],
  [192, 0.40389],
  [256, 0.52069],
  [320, 0.61436],
  [384, 0.69035],
  [448, 0.75289],
  [512, 0.80486],
  [640, 0.88453],
  [768, 0.93986],
  [1024, 1],
]

/** Between its places straight in log-log; below them in proportion. */
export function dngDefault(light: number): number {
  const x = Math.max(light, 0) * 1024
  const [first] = DNG_DEFAULT
  if (x <= first![0]) return (first![1] * x) / first![0]
  const next = DNG_DEFAULT.findIndex(([at]) => at >= x)
  if (next < 0) return 1
  const [[x0, y0], [x1, y1]] = [DNG_DEFAULT[next - 1]!, DNG_DEFAULT[next]!]
  return y0 * (y1 / y0) ** (Math.log(x / x0) / Math.log(x1 / x0))
}

export function contrastOf(bend: Bend): number {
  const step = 1.06
  return Math.log(bend(MID_GREY * step) / bend(MID_GREY / step)) / (2 * Math.log(step))
}

/** The one of a family of curves, by a parameter that contrast rises with, that has a contrast. */
function withContrast(
  wanted: number,
  low: number,
  high: number,
  family: (p: number) => Bend,
): Bend {
  for (let i = 0; i < 40; i++) {
    const middle = (low + high) / 2
    if (contrastOf(family(middle)) < wanted) low = middle
    else high = middle
  }
  return family((low + high) / 2)
}

/** Film: a logistic characteristic curve, code over log light, from base to full density. */
function film(wanted: number, toe: number): Bend {
  return withContrast(wanted, 0.2, 4, (gamma) => {
    const density = (light: number) => light ** gamma / (light ** gamma + 0.35 ** gamma)
    const code = (light: number) => density(light + toe) - density(toe)
    return (light) => decodeTransfer(code(Math.max(light, 0)) / code(1))
  })
}

/** A power with an S on the stored codes, as contrast settings of cameras make it. */
function settled(wanted: number, gamma: number): Bend {
  return withContrast(wanted, -0.9, 0.9, (a) => (light) => {
    const code = encodeTransfer(Math.min(Math.max(light, 0), 1)) ** gamma
    return decodeTransfer(code - (a * Math.sin(2 * Math.PI * code)) / (2 * Math.PI))
  })
}

/** The DNG default after a gain of exposure that its shoulder takes up, made steeper by a power. */
function rendered(wanted: number, share: number): Bend {
  return withContrast(wanted, 0.3, 4, (power) => (light) => {
    const x = Math.max(light, 0)
    return (x * (dngDefault(x) / Math.max(x, 1e-9)) ** share) ** power
  })
}

const FAMILIES: readonly ((wanted: number, random: Random) => Bend)[] = [
  (wanted, random) => film(wanted, 0.004 * random.uniform()),
  (wanted, random) => settled(wanted, 0.9 + 0.2 * random.uniform()),
  (wanted, random) => rendered(wanted, 0.8 * random.uniform()),
]
export const FAMILY_NAMES = ['film', 'settings', 'rendered'] as const

export function drawBend(random: Random, family?: number): Bend {
  const wanted = MEDIAN_CONTRAST * Math.exp(LN_CONTRAST_SD * random.normal())
  const chosen = family ?? Math.floor(3 * random.uniform())
  return FAMILIES[chosen]!(wanted, random)
}
