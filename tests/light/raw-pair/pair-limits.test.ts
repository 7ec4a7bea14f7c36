import { describe, expect, test } from 'vitest'
import { P3_FROM_XYZ } from '../../../src/colour/rgb-spaces.ts'
import type { LightMap } from '../../../src/light/raw-pair/light-map.ts'
import { measurePair } from '../../../src/light/raw-pair/measure-pair.ts'
import { placeMaps } from '../../../src/light/raw-pair/place-maps.ts'
import {
  diagonal,
  invert,
  type Matrix3,
  multiply,
  type Triple,
  transform,
} from '../../../src/numerics/matrix3.ts'
import { normal, uniform } from '../pictures.ts'

const [COLUMNS, ROWS, PATCH] = [88, 64, 8]
/** Camera channels to linear Display P3, white balance in it; grey stays grey. */
const BALANCED: Matrix3 = [
  [1.4, -0.3, -0.1],
  [-0.15, 1.35, -0.2],
  [0.05, -0.35, 1.3],
]
const GAINS: Triple = [1.8, 1, 1.5]
const TO_P3 = multiply(BALANCED, diagonal(GAINS))
const CAMERA_TO_XYZ = multiply(invert(P3_FROM_XYZ), TO_P3)

interface Scene {
  /** Stops from the brightest patch to the darkest. */
  readonly stops?: number
  /** Nominal light of the photo by its true light. */
  readonly bend?: (light: number) => number
  /** ln of each patch's light in the photo over what the curve gives, standard deviation. */
  readonly scatter?: number
  /** A patch whose photo is so much brighter, ln: a spark. */
  readonly spark?: number
  readonly mirrored?: boolean
  readonly cameraToXyz?: Matrix3 | null
}
const CURVE = (light: number) => light ** (1 / 0.86)

/** Patches of even light, each of its own level and colour: from grey to that of a glow. */
function pairOf({
  stops = 7,
  bend = CURVE,
  scatter = 0,
  spark = 0,
  mirrored = false,
  cameraToXyz = CAMERA_TO_XYZ,
}: Scene) {
  const [draw, noise] = [uniform(17), normal(23)]
  const across = COLUMNS / PATCH
  const patches = Array.from({ length: across * (ROWS / PATCH) }, (_, k) => {
    // Every level once, in no order.
    const place = (37 * k) % (across * (ROWS / PATCH))
    const level = 0.75 * 2 ** ((-stops * place) / (across * (ROWS / PATCH) - 1))
    const glow = draw()
    const light: Triple = [level, level * (1 - 0.5 * glow), level * (1 - 0.75 * glow)]
    const odd = Math.exp(scatter * noise() + (k === 40 ? spark : 0))
    return { raw: transform(invert(TO_P3), light), photo: light.map((v) => bend(v) * odd) }
  })
  const mapOf = (of: 'raw' | 'photo', mirror = false): LightMap => {
    const light = new Float32Array(3 * COLUMNS * ROWS)
    for (let y = 0; y < ROWS; y++)
      for (let x = 0; x < COLUMNS; x++) {
        const column = Math.floor((mirror ? COLUMNS - 1 - x : x) / PATCH)
        light.set(patches[Math.floor(y / PATCH) * across + column]![of], 3 * (y * COLUMNS + x))
      }
    const size = { width: 8 * COLUMNS, height: 8 * ROWS }
    return {
      width: COLUMNS,
      height: ROWS,
      cell: 8,
      of: size,
      light,
      flags: new Uint8Array(light.length / 3),
    }
  }
  return {
    photo: mapOf('photo', mirrored),
    space: 'display-p3',
    steps: { luma: 1, chroma: 1 },
    raw: mapOf('raw'),
    cameraToXyz,
    asShotNeutral: GAINS.map((gain) => 1 / gain) as unknown as Triple,
  } as const
}
const measured = (scene: Scene = {}) => {
  const result = measurePair(pairOf(scene))
  if (result.kind === 'refused')
    throw new Error(`${result.reason} ${JSON.stringify(result.values)}`)
  return result
}
/** ln(G/R) and ln(B/R) that a matrix makes of a raw colour. */
const colourOf = (matrix: Matrix3, raw: Triple) => {
  const light = transform(matrix, raw)
  return [Math.log(light[1] / light[0]), Math.log(light[2] / light[0])]
}
const RAW_GLOW = transform(invert(TO_P3), [0.5, 0.25, 0.15])

describe('raw and photo of one shot', () => {
  test('give the matrix between them, the stops that both saw, and no balance but daylight’s', () => {
    const { matrix, stops, misfit, balance, kindProbability, curve } = measured()
    for (const c of [0, 1])
      expect(colourOf(matrix, RAW_GLOW)[c]).toBeCloseTo(colourOf(TO_P3, RAW_GLOW)[c]!, 1)
    // In nominal light, which has 1.16 times as many; green of the reddest lies a stop below its red.
    expect(stops).toBeGreaterThan(7 / 0.86)
    expect(stops).toBeLessThan(8.1 / 0.86)
    expect(misfit).toBeLessThan(1)
    expect(curve.kind).toBe('channel')
    expect(kindProbability).toBeGreaterThan(0.98)
    expect(balance).not.toBeNull()
    for (const gain of balance!.logGains) expect(Math.abs(gain)).toBeLessThan(0.05)
  })

  test('give it without a matrix in the raw file, by its white alone, and then no balance', () => {
    const { matrix, balance } = measured({ cameraToXyz: null, stops: 6 })
    expect(Math.abs(colourOf(matrix, RAW_GLOW)[0]! - colourOf(TO_P3, RAW_GLOW)[0]!)).toBeLessThan(
      0.15,
    )
    expect(balance).toBeNull()
  })

  test('are two pictures where one is mirrored', () => {
    expect(measurePair(pairOf({ mirrored: true }))).toMatchObject({
      kind: 'refused',
      reason: 'other picture',
    })
  })

  test('are two pictures where raw explains less than nine tenths of the photo', () => {
    const of = (share: number) => {
      const pair = pairOf({})
      const draw = normal(29)
      const { light, width, height } = pair.photo
      for (let p = 0; p < width * height; p++) {
        const factor = Math.exp(share * draw())
        for (const c of [0, 1, 2]) light[3 * p + c]! *= factor
      }
      const placed = placeMaps(pair.photo, pair.raw, TO_P3[0])
      const result = measurePair(pair)
      const reason = result.kind === 'refused' ? result.reason : null
      return { correlation: placed!.place.correlation, other: reason === 'other picture' }
    }
    const found = [0.9, 1].map(of)
    expect(found.map(({ other }) => other)).toEqual([false, true])
    for (const { correlation } of found) expect(Math.abs(correlation - 0.9)).toBeLessThan(0.02)
  })

  test('show too little where levels span less than four stops', () => {
    const linear = (light: number) => light
    const of = (stops: number) => {
      const pair = pairOf({ stops, bend: linear })
      const result = measurePair(pair)
      return result.kind === 'refused' ? [result.reason, result.values] : [result.kind]
    }
    const [reason, values] = of(2.6)
    expect(reason).toBe('too little light')
    expect(values).toMatchObject({ leastStops: 4 })
    // What it says is what both saw: red and green, the latter up to a stop less.
    const found = (values as { stops: number }).stops
    expect(found).toBeGreaterThan(2.6)
    expect(found).toBeLessThan(3.7)
    const lacking = 4 - found
    expect(of(2.6 + lacking - 0.15)[0]).toBe('too little light')
    expect(of(2.6 + lacking + 0.15)[0]).not.toBe('too little light')
  })

  test('leave out what is no light of the scene: a spark', () => {
    const [without, with_] = [measured(), measured({ spark: 0.4 })]
    expect(with_.misfit).toBeLessThan(without.misfit + 0.3)
    expect(colourOf(with_.matrix, RAW_GLOW)[0]).toBeCloseTo(
      colourOf(without.matrix, RAW_GLOW)[0]!,
      2,
    )
    expect(with_.curve.data).toBeLessThan(without.curve.data)
  })

  test('do not fit where levels scatter by more than six times what they may', () => {
    const of = (scatter: number) => {
      const result = measurePair(pairOf({ scatter }))
      return {
        reason: result.kind === 'refused' ? result.reason : null,
        misfit: result.kind === 'refused' ? (result.values.misfit ?? Number.NaN) : result.misfit,
      }
    }
    // The misfit grows as the scatter does.
    const small = of(0.02)
    expect(small.reason).toBeNull()
    const six = (0.02 * 6) / small.misfit
    const [below, above] = [of(0.9 * six), of(1.12 * six)]
    expect(below).toMatchObject({ reason: null })
    expect(below.misfit).toBeGreaterThan(5)
    expect(above).toMatchObject({ reason: 'does not fit' })
    expect(above.misfit).toBeLessThan(7.2)
  })
})
