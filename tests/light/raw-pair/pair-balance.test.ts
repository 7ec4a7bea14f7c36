import { expect, test } from 'vitest'
import { xyzFromXy } from '../../../src/colour/chromaticity.ts'
import { P3_FROM_SRGB, P3_FROM_XYZ, WHITE_D65 } from '../../../src/colour/rgb-spaces.ts'
import { balanceOfPair } from '../../../src/light/raw-pair/pair-balance.ts'
import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  type Triple,
  transform,
} from '../../../src/numerics/matrix3.ts'

/** A camera's matrix, rows of XYZ from its channels. */
const CAMERA: Matrix3 = [
  [0.7, 0.2, 0.1],
  [0.3, 0.75, -0.05],
  [0.02, -0.15, 1.1],
]
/** What the camera answers to daylight. */
const WHITE = transform(invert(CAMERA), xyzFromXy(WHITE_D65))
const none = Array.from({ length: 9 }, () => new Array<number>(9).fill(0))
type Covariance = readonly (readonly number[])[]
const balance = (
  matrix: Matrix3,
  { space = 'display-p3' as 'display-p3' | 'srgb', covariance = none as Covariance } = {},
) => balanceOfPair({ matrix, matrixCovariance: covariance } as never, CAMERA, space)
/** Makes daylight white in Display P3. */
const neutral = multiply(P3_FROM_XYZ, CAMERA)
/** ln of red over green and over blue that daylight gets. */
const gainsOf = (light: Triple) => [0, Math.log(light[0] / light[1]), Math.log(light[0] / light[2])]

test('a photo balanced for daylight has no gains against a card in daylight', () => {
  const found = balance(neutral)!
  for (const gain of found.logGains) expect(gain).toBeCloseTo(0, 4)
  expect(found.light).toMatchObject({ kind: 'daylight', colourTemperatureK: 6504 })
})

test('gains are those that bring daylight back to white, in Display P3 also of an sRGB file', () => {
  const warm: Triple = [1.1, 1, 0.9]
  const matrix = multiply(diagonal(warm), neutral)
  expect(balance(matrix)!.logGains).toEqual(gainsOf(warm).map((gain) => expect.closeTo(gain, 4)))
  expect(balance(matrix, { space: 'srgb' })!.logGains).toEqual(
    gainsOf(transform(multiply(P3_FROM_SRGB, matrix), WHITE)).map((gain) =>
      expect.closeTo(gain, 9),
    ),
  )
})

test('nothing is known without the raw file’s matrix, or where daylight leaves a channel dark', () => {
  expect(
    balanceOfPair({ matrix: neutral, matrixCovariance: none } as never, null, 'display-p3'),
  ).toBeNull()
  for (const c of [0, 1, 2])
    expect(
      balance(multiply(diagonal([0, 1, 2].map((i) => (i === c ? -1 : 1)) as never), neutral)),
    ).toBeNull()
})

test('a matrix that is open leaves the gains open, to first order as its entries move them', () => {
  // A covariance with one cause: these entries move together.
  const moves = [2, -1, 1, 1, 3, -2, -1, 2, 4].map((v) => 0.004 * v)
  const covariance = moves.map((a) => moves.map((b) => a * b))
  for (const space of ['display-p3', 'srgb'] as const) {
    const warm = multiply(diagonal([1.2, 1, 0.8]), neutral)
    const at = (share: number) => {
      const matrix = warm.map((row, r) => row.map((v, c) => v + share * moves[3 * r + c]!))
      return balance(matrix as unknown as Matrix3, { space })!.logGains
    }
    const slope = [0, 1, 2].map((c) => (at(0.01)[c]! - at(-0.01)[c]!) / 0.02)
    const open = balance(warm, { space, covariance })!.covariance
    const known = balance(warm, { space })!.covariance
    for (const a of [0, 1, 2] as const)
      for (const b of [0, 1, 2] as const)
        expect(open[a][b] - known[a][b]).toBeCloseTo(slope[a]! * slope[b]!, 7)
  }
})

test('daylight itself is known to 2 % a channel, red’s share common to both gains', () => {
  const [, [, green, both], [, , blue]] = balance(neutral)!.covariance
  expect(green).toBeCloseTo(2 * 0.02 ** 2, 6)
  expect(blue).toBeCloseTo(2 * 0.02 ** 2, 6)
  expect(both).toBeCloseTo(0.02 ** 2, 6)
  expect(balance(neutral)!.covariance[0]).toEqual([0, 0, 0].map(() => expect.closeTo(0, 9)))
})

test('strong gains are known in proportion, as those of a card are', () => {
  const warm: Triple = [1, 0.9, 0.85]
  const { covariance } = balance(multiply(diagonal(warm), neutral))!
  const [, green, blue] = gainsOf(warm) as [number, number, number]
  const extra = [covariance[1][1] - 2 * 0.02 ** 2, covariance[2][2] - 2 * 0.02 ** 2]
  expect(extra[1]! / extra[0]!).toBeCloseTo((blue / green) ** 2, 1)
  expect(covariance[1][2] - 0.02 ** 2).toBeCloseTo(Math.sqrt(extra[0]! * extra[1]!), 6)
})

test('a balance more open than a tenth in ln(G/R) is none', () => {
  const of = (sd: number) => {
    // Of the green row alone: moves green's light by sd.
    const moves = [0, 0, 0, ...neutral[1].map((v) => sd * v), 0, 0, 0]
    return balance(neutral, { covariance: moves.map((a) => moves.map((b) => a * b)) })
  }
  // With 2 % of red and of green besides.
  expect(of(Math.sqrt(0.095 ** 2 - 0.0008))).not.toBeNull()
  expect(of(Math.sqrt(0.105 ** 2 - 0.0008))).toBeNull()
})
