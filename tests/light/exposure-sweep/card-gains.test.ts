import { describe, expect, test } from 'vitest'
import { decodeTransfer, encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { cardGains } from '../../../src/light/exposure-sweep/card-gains.ts'
import { checkToneCurve } from '../../../src/light/exposure-sweep/check-tone-curve.ts'
import { nominalLevels, regionCodes } from '../../../src/light/exposure-sweep/frame-levels.ts'
import { placeFrames } from '../../../src/light/exposure-sweep/place-frames.ts'
import type { Response, SweptCurveKind } from '../../../src/light/exposure-sweep/response.ts'
import { BASIS } from '../../../src/light/exposure-sweep/response-prior.ts'
import type { ToneCurve } from '../../../src/light/exposure-sweep/tone-curve.ts'
import type { Region, StoredImage } from '../../../src/light/image.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'

const LOSSLESS = { luma: 1, chroma: 1 }
const SIDE = 32
const WHOLE: Region = { shape: 'rectangle', x: 0, y: 0, width: SIDE, height: SIDE }
const responseOf = (kind: SweptCurveKind, power: number): Response => ({
  kind,
  basis: BASIS,
  // Light is the nominal one to this power: straight in ln.
  coefficients: Array.from(
    { length: BASIS.size },
    (_, j) => (power - 1) * (BASIS.first + (j - 1) * BASIS.spacing),
  ),
})

/** An even card of this linear light; of its first pixels so many are white. */
function card(light: Triple, white = 0): StoredImage {
  const codes = new Float32Array(3 * SIDE * SIDE)
  for (let i = 0; i < SIDE * SIDE; i++)
    codes.set(i < white ? [1, 1, 1] : light.map(encodeTransfer), 3 * i)
  return { width: SIDE, height: SIDE, space: 'display-p3', codes }
}
const CARD: Triple = [0.2, 0.22, 0.18]

describe('what a card says of a balance', () => {
  const moved = card([0.2 * 1.1, 0.22 * 1.05, 0.18 * 0.9])

  test('is by what red and blue went up against green, counted from the photo that is the base', () => {
    const [red, blue] = [Math.log(1.1 / 1.05), Math.log(0.9 / 1.05)]
    const [first, second] = cardGains([card(CARD), moved], 0, LOSSLESS, null)
    expect(first).toEqual({ lnGain: [0, 0, 0], uncertainty: [0, 0, 0] })
    expect(second!.lnGain).toEqual([expect.closeTo(red, 5), 0, expect.closeTo(blue, 5)])
    const [back, base] = cardGains([card(CARD), moved], 1, LOSSLESS, null)
    expect(back!.lnGain).toEqual([expect.closeTo(-red, 5), 0, expect.closeTo(-blue, 5)])
    expect(base!.uncertainty).toEqual([0, 0, 0])
  })

  test('is as unsure as two channels of two photos', () => {
    const sdOf = (image: StoredImage) =>
      nominalLevels(regionCodes(image, WHOLE, [1, 1, 1]), LOSSLESS).uncertainty
    const [a, b] = [sdOf(card(CARD)), sdOf(moved)]
    const { uncertainty } = cardGains([card(CARD), moved], 0, LOSSLESS, null)[1]!
    for (const c of [0, 2] as const)
      expect(uncertainty[c]).toBeCloseTo(Math.hypot(a[c], a[1], b[c], b[1]), 9)
    expect(uncertainty[1]).toBe(0)
  })

  test('is bent as the curve bends each channel, and not by a curve that keeps ratios', () => {
    const by = (response: Response) => cardGains([card(CARD), moved], 0, LOSSLESS, response)[1]!
    const straight = Math.log(1.1 / 1.05)
    // In the lower half, where the curve's axis is hardly stretched.
    expect(by(responseOf('channel', 0.8)).lnGain[0] / (0.8 * straight)).toBeCloseTo(1, 1)
    expect(by(responseOf('channel', 0.8)).lnGain[0]).toBeLessThan(0.9 * straight)
    expect(by(responseOf('ratio', 0.8)).lnGain[0]).toBeCloseTo(straight, 5)
  })

  test('is nothing where the card is clipped in a hundredth, or dark in any channel', () => {
    // Of 1024 pixels.
    const of = (other: StoredImage) => cardGains([card(CARD), other], 0, LOSSLESS, null)[1]
    expect(of(card(CARD, 10))).not.toBeNull()
    expect(of(card(CARD, 11))).toBeNull()
    for (const c of [0, 1, 2])
      expect(
        of(card(CARD.map((v, k) => (k === c ? decodeTransfer(4.5 / 255) : v)) as never)),
      ).toBeNull()
    const dark = card([0.0001, 0.0001, 0.0001])
    expect(cardGains([dark, card(CARD)], 0, LOSSLESS, null)).toEqual([null, null])
  })
})

describe('the check of a curve', () => {
  const curveOf = (kind: SweptCurveKind, power = 1) =>
    ({ kind, space: 'display-p3', response: responseOf(kind, power) }) as unknown as ToneCurve
  const REGION: Region = { shape: 'rectangle', x: 40, y: 40, width: 32, height: 32 }
  /** A bar in the dark, moved by some pixels. */
  const photo = (light: Triple, at = 32): StoredImage => {
    const size = 112
    const codes = new Float32Array(3 * size * size).fill(0.1)
    for (let y = at; y < at + 48; y++)
      for (let x = at; x < at + 48; x++) codes.set(light.map(encodeTransfer), 3 * (y * size + x))
    return { width: size, height: size, space: 'display-p3', codes }
  }
  const GLOW: Triple = [0.6, 0.25, 0.12]
  const frame = (ln: readonly number[], stop: number, at?: number) => ({
    image: photo(GLOW.map((v, c) => v * 2 ** stop * Math.exp(ln[c]!)) as unknown as Triple, at),
    relativeExposure: 2 ** stop,
  })
  const STILL = [0, 0, 0]

  test('tells what is left between exposures: root mean square over channels, by what they leave open', () => {
    const off = [0.05, 0.05, 0.05]
    const check = checkToneCurve(
      curveOf('channel'),
      [frame(STILL, 0), frame(off, -2)],
      REGION,
      LOSSLESS,
    )
    if (check.kind !== 'checked') throw new Error(check.reason)
    // Two photos lie half of it off their mean each, with one degree of freedom.
    expect(Math.abs(check.residual / (0.05 / Math.SQRT2) - 1)).toBeLessThan(0.03)
    // 2 % of each exposure and, without noise, rounding to whole codes.
    expect(check.misfit).toBeLessThan(0.05 / Math.SQRT2 / 0.02)
    expect(check.misfit).toBeGreaterThan(0.6 * (0.05 / Math.SQRT2 / 0.02))
    const three = checkToneCurve(
      curveOf('channel'),
      [frame(STILL, 0), frame(off, -2), frame(off, -1)],
      REGION,
      LOSSLESS,
    )
    // Off the mean by two thirds and twice one third of it: squares of two thirds over two.
    expect(three).toMatchObject({ kind: 'checked' })
    const { residual } = three as typeof check
    expect(Math.abs(residual / (0.05 * Math.sqrt(1 / 3)) - 1)).toBeLessThan(0.03)
  })

  test('follows a curve on each channel by each, one that keeps ratios by the brightest', () => {
    // Light falls by two stops, nominal light by 2 / 0.8 of them.
    const bent = (ln: number) => ln / 0.8 - ln
    const fall = bent(-2 * Math.LN2)
    for (const kind of ['channel', 'ratio'] as const) {
      const check = checkToneCurve(
        curveOf(kind, 0.8),
        [frame(STILL, 0), frame([fall, fall, fall], -2)],
        REGION,
        LOSSLESS,
      )
      expect(check).toMatchObject({ kind: 'checked', agrees: true })
      // The stretch of its axis is left, more where codes are high.
      expect((check as { residual: number }).residual).toBeLessThan(0.06)
    }
    const wrong = checkToneCurve(
      curveOf('ratio', 1),
      [frame(STILL, 0), frame([fall, fall, fall], -2)],
      REGION,
      LOSSLESS,
    )
    expect(wrong).toMatchObject({ agrees: false })
  })

  test('finds the glow where it was moved to, not farther than alignment reaches', () => {
    const at = (place: number) =>
      checkToneCurve(
        curveOf('channel'),
        [frame(STILL, 0), frame(STILL, -2, place)],
        REGION,
        LOSSLESS,
      )
    expect(at(40)).toMatchObject({ kind: 'checked', agrees: true })
    expect(at(62)).toEqual({ kind: 'not possible', reason: 'moved' })
  })

  test('is not possible where one of two photos is clipped', () => {
    const bright = frame([1, 1.9, 2.6], 0)
    bright.image.codes.forEach((code, i) => {
      bright.image.codes[i] = Math.min(code, 1)
    })
    expect(
      checkToneCurve(curveOf('channel'), [bright, frame(STILL, -2)], REGION, LOSSLESS),
    ).toEqual({
      kind: 'not possible',
      reason: 'too few frames',
    })
  })
})

describe('the places of frames', () => {
  const REGION: Region = { shape: 'rectangle', x: 44, y: 44, width: 24, height: 24 }
  /** Two spots, moved; as bright as is said. */
  const frame = (level: number, dx = 0, dy = 0) => {
    const size = 120
    const codes = new Float32Array(3 * size * size)
    for (let y = 0; y < size; y++)
      for (let x = 0; x < size; x++) {
        const spot = (u: number, v: number, r: number) =>
          Math.exp(-((x - dx - u) ** 2 + (y - dy - v) ** 2) / (2 * r * r))
        codes[3 * (y * size + x)] = level * (spot(50, 52, 7) + 0.6 * spot(66, 60, 4))
      }
    const image: StoredImage = { width: size, height: size, space: 'display-p3', codes }
    return { image, relativeExposure: level }
  }
  const shifts = (...frames: ReturnType<typeof frame>[]) => {
    const placed = placeFrames(frames, REGION)
    if (placed.kind === 'moved') throw new Error(JSON.stringify(placed.values))
    return placed.shifts.map(({ dx, dy }) => [Math.round(dx) + 0, Math.round(dy) + 0])
  }

  test('count from the second brightest', () => {
    expect(shifts(frame(0.5, 3, 0), frame(0.3), frame(0.9, 0, 5))).toEqual([
      [0, 0],
      [-3, 0],
      [-3, 5],
    ])
  })

  test('of a frame too dark to see are those of the one that was taken next to it', () => {
    const list = [
      frame(0.9),
      frame(0.6),
      frame(0.5, 4, 0),
      frame(0.003),
      frame(0.002),
      frame(0.4, 0, 6),
    ]
    expect(shifts(...list)).toEqual([
      [0, 0],
      [0, 0],
      [4, 0],
      [4, 0],
      [0, 6],
      [0, 6],
    ])
  })

  test('name the frame that shows something else', () => {
    const other = frame(0.5)
    const { codes, width } = other.image
    // Stripes across.
    for (let p = 0; p < width * width; p++) codes[3 * p] = (p % width) % 16 < 8 ? 0.5 : 0
    expect(placeFrames([frame(0.9), frame(0.7), other], REGION)).toMatchObject({
      kind: 'moved',
      values: { frame: 2 },
    })
  })
})
