import { describe, expect, test } from 'vitest'
import {
  levelEquation,
  levelOfReading,
  levelOfReference,
  lnRedOver,
  type MeasuredLevel,
  measuredLevel,
} from '../../src/estimate/level-equation.ts'
import { levelCorrection } from '../../src/estimate/tone-curve-prior.ts'
import type { LevelConditions } from '../../src/estimate/types.ts'
import { MEAN_CAMERA, meanCamera } from '../../src/light/simulate/mean-camera.ts'
import { respond } from '../../src/light/simulate/sensitivity.ts'
import { deliveredP3, glowSpectrum } from '../../src/light/simulate/simulated-camera.ts'
import { materialById, spectralEmissivity } from '../../src/physics/materials.ts'
import { planckRadiance } from '../../src/physics/planck.ts'
import { expectClose } from '../close-to.ts'
import { colour, reading, reference } from './inputs.ts'

const LEVEL: LevelConditions = { exposureSeconds: 0.01, iso: 100, fNumber: 2, fieldRadius: 0 }
const STEEL = { id: 'steel-oxidised', lnGreenOverRed: 0, standardUncertainty: 0.03 }
const photo = {
  glow: colour(0.4, 0.1),
  channels: 'camera',
  linearity: { kind: 'linear' },
  surface: STEEL,
  level: LEVEL,
} as const

const levelOf = (change: Partial<Parameters<typeof measuredLevel>[0]> = {}): MeasuredLevel => {
  const found = measuredLevel({ ...photo, ...change })
  if (found === null) throw new Error('no level')
  return found
}
const sharedOf = (level: MeasuredLevel, key: string) =>
  level.shared.find((one) => one.key.startsWith(key))?.standardUncertainty

describe('the level of a photo', () => {
  test('follows its light: twice the red or half the exposure is ln 2 more', () => {
    const plain = levelOf().value
    const more = (change: Partial<Parameters<typeof measuredLevel>[0]>) =>
      levelOf(change).value - plain
    expect(more({ glow: colour(0.4, 0.1, 0.002, 1) })).toBeCloseTo(Math.LN2, 12)
    // ISO 2720: exposure goes with time, with the speed, and with the aperture squared.
    expect(more({ level: { ...LEVEL, exposureSeconds: 0.02 } })).toBeCloseTo(-Math.LN2, 12)
    expect(more({ level: { ...LEVEL, iso: 50 } })).toBeCloseTo(Math.LN2, 12)
    expect(more({ level: { ...LEVEL, fNumber: 4 } })).toBeCloseTo(2 * Math.LN2, 12)
  })

  test('is none of a glow less than twice as wide as the blur of 4 pixels (common practice), which keeps 98 %', () => {
    // erf(width / (2 sqrt 2 sigma)), sigma = 4 / 2.355: 0.977 of 7.7 pixels, 0.984 of 8.2 (tables of erf).
    const of = (widthPixels: number) => measuredLevel({ ...photo, widthPixels })
    expect(of(7.7)).toBeNull()
    expect(of(8.2)).not.toBeNull()
  })

  test('allows for the emissivity that the tables give, and knows that of no other surface', () => {
    const steel = spectralEmissivity(materialById('steel-oxidised')!, 632, 1200)
    const unknown = levelOf({ surface: { ...STEEL, id: 'something else' } })
    expect(levelOf().value - unknown.value).toBeCloseTo(-Math.log(steel.value), 12)
    expectClose(sharedOf(levelOf(), 'emissivity')!, steel.standardUncertainty / steel.value, 1e-12)
    expect(sharedOf(unknown, 'emissivity')).toBeGreaterThan(sharedOf(levelOf(), 'emissivity')!)
  })

  test('counts light that was found to be missing from a setting, as unsure as it was found', () => {
    const measured = { lnOff: 0.1, standardUncertainty: 0.004 }
    const known = levelOf({ level: { ...LEVEL, measured } })
    expect(known.value - levelOf().value).toBeCloseTo(-0.1, 12)
    expect(sharedOf(known, 'exposure')).toBe(0.004)
    // Labels that nobody tried: two of them 5 % apart.
    expect(Math.SQRT2 * sharedOf(levelOf(), 'exposure')!).toBeCloseTo(0.05, 12)
  })

  test('of one setting errs together, of another apart', () => {
    const keyOf = (level: LevelConditions) =>
      levelOf({ level }).shared.find(({ key }) => key.startsWith('exposure'))?.key
    expect(keyOf(LEVEL)).toBe(keyOf({ ...LEVEL }))
    for (const other of [{ exposureSeconds: 0.02 }, { iso: 50 }, { fNumber: 4 }])
      expect(keyOf({ ...LEVEL, ...other })).not.toBe(keyOf(LEVEL))
  })

  test('in the corner may have lost light, in the middle none', () => {
    expect(Math.abs(sharedOf(levelOf(), 'vignetting')!)).toBe(0)
    const corner = sharedOf(levelOf({ level: { ...LEVEL, fieldRadius: 1 } }), 'vignetting')!
    const half = sharedOf(levelOf({ level: { ...LEVEL, fieldRadius: 0.5 } }), 'vignetting')!
    expect(corner).toBeLessThan(-0.2)
    expectClose(corner / half, 4, 1e-12)
  })

  test('of a piece that was named shares its surface with others of it', () => {
    const named = levelOf({ surface: { ...STEEL, piece: 'bar' } })
    const other = levelOf()
    const ofPiece = sharedOf(named, 'piece bar')!
    expect(named.piece).toBe('bar')
    expect(other.piece).toBeNull()
    expect(sharedOf(other, 'piece')).toBeUndefined()
    // What the pieces of one surface differ by is then its own.
    expectClose(other.variance - named.variance, ofPiece ** 2, 1e-9)
    // Oxidised steel is known better than within 0.7 to 0.9 by its table or as well as that.
    expect(ofPiece).toBeLessThanOrEqual(0.2 / Math.sqrt(12) / 0.8)
    const unknown = levelOf({ surface: { ...STEEL, id: 'something else', piece: 'bar' } })
    expectClose(sharedOf(unknown, 'piece')!, 0.2 / Math.sqrt(12) / 0.8, 1e-12)
  })

  test('is less sure with noise, and never surer than the eye for a spot', () => {
    const noisy = levelOf({ glow: colour(0.4, 0.1, 0.1) })
    const clean = levelOf({ glow: colour(0.4, 0.1, 0.001) })
    expectClose(noisy.variance - clean.variance, 0.1 ** 2 - 0.001 ** 2, 1e-9)
    // One spot and another of a piece differ by 2 %, flare takes 1 %, independently (JCGM 100, 5.1.2).
    const named = levelOf({ glow: colour(0.4, 0.1, 0), surface: { ...STEEL, piece: 'bar' } })
    expect(named.variance).toBeGreaterThan(0.02 ** 2 + 0.01 ** 2)
  })

  test('through a curve of a sweep errs by what the sweep left open', () => {
    const sweep = (ownUncertainty: number) =>
      levelOf({
        linearity: {
          kind: 'sweep',
          curveId: 'of today',
          standardUncertaintyGreen: 0.01,
          ownUncertainty,
        } as never,
      })
    expectClose(sweep(0.05).variance - sweep(0).variance, 0.05 ** 2, 1e-9)
  })

  test('of a stream with an unknown curve is taken back to light by the mean curve', () => {
    const linearity = { kind: 'single', curveId: 'phone', storedLevels: [0.3, 0.2, 0.1] } as never
    const stream = levelOf({ linearity, level: { ...LEVEL, stream: true } })
    expectClose(stream.value - levelOf().value, levelCorrection(0.3).mean, 1e-9)
    expect(Math.abs(levelCorrection(0.3).mean)).toBeGreaterThan(0.01)
  })

  test('is told of a stream', () => {
    expect(levelOf().stream).toBe(false)
    expect(levelOf({ level: { ...LEVEL, stream: true } }).stream).toBe(true)
  })

  test('is none without an exposure, red, a curve, or room for the blur', () => {
    const none = (change: Partial<Parameters<typeof measuredLevel>[0]>) =>
      expect(measuredLevel({ ...photo, ...change })).toBeNull()
    none({ level: undefined })
    none({ level: { ...LEVEL, exposureSeconds: 0 } })
    none({ level: { ...LEVEL, fNumber: 0 } })
    none({ glow: colour(0.4, 0.1, 0.002, 0) })
    none({
      linearity: { kind: 'single', curveId: 'phone', storedLevels: [0.5, 0.2, 0.1] } as never,
    })
    // A strip of twice the blur keeps 98 % (erf), which is as little as counts.
    none({ widthPixels: 7.8 })
    expect(measuredLevel({ ...photo, widthPixels: 8 })).not.toBeNull()
  })
})

describe('whose level counts', () => {
  test('that of a reading not behind a window', () => {
    const input = { ...reading(colour(0.4, 0.1)), level: LEVEL }
    expect(levelOfReading(input)).not.toBeNull()
    const window = { lnGreenOverRed: 0, standardUncertainty: 0.01 } as never
    expect(levelOfReading({ ...input, window })).toBeNull()
    const thin = { ...input, quality: { ...input.quality, glowWidthPixels: 3 } }
    expect(levelOfReading(thin)).toBeNull()
  })

  test('that of a known heat with a curve that is known', () => {
    const known = reference(1300, 5, colour(0.4, 0.1), { level: LEVEL })
    expect(levelOfReference(known)).not.toBeNull()
    const linearity = { kind: 'single', curveId: 'p', storedLevels: [0.5, 0.2, 0.1] } as never
    expect(levelOfReference({ ...known, linearity, level: { ...LEVEL, stream: true } })).toBeNull()
  })
})

describe('red over temperature', () => {
  const RED_M = 620e-9

  test('grows as Planck says of the middle of red', () => {
    // The band's mean lies between 600 and 640 nm.
    for (const [hot, cold] of [
      [1300, 1200],
      [2000, 1900],
      [1000, 900],
    ] as const) {
      const at = (m: number) => Math.log(planckRadiance(m, hot) / planckRadiance(m, cold))
      for (const channels of ['camera', 'display-p3'] as const) {
        const grown = lnRedOver(channels, hot, cold)
        expect(grown).toBeLessThan(at(600e-9))
        expect(grown).toBeGreaterThan(at(640e-9))
      }
      expect(lnRedOver('camera', cold, hot)).toBe(-lnRedOver('camera', hot, cold))
    }
    expectClose(
      lnRedOver('camera', 1300, 1200),
      Math.log(planckRadiance(RED_M, 1300) / planckRadiance(RED_M, 1200)),
      0.04,
    )
  })

  test('is that of the mean camera in daylight, raw or delivered', () => {
    const camera = meanCamera('daylight')
    for (const [hot, cold] of [
      [3300, 1173],
      [1407, 1111],
      [1000, 810],
    ] as const) {
      const raw = (kelvin: number) => Math.log(respond(MEAN_CAMERA, glowSpectrum(kelvin))[0])
      const delivered = (kelvin: number) => Math.log(deliveredP3(camera, glowSpectrum(kelvin))[0])
      expectClose(lnRedOver('camera', hot, cold), raw(hot) - raw(cold), 1e-5)
      expectClose(lnRedOver('display-p3', hot, cold), delivered(hot) - delivered(cold), 1e-5)
    }
  })

  test('the equation says how far the level lies above the mean camera, and how steeply', () => {
    const measured = levelOf()
    const at = (kelvin: number) => levelEquation(measured, kelvin)
    expectClose(at(1200).residual - at(1300).residual, lnRedOver('camera', 1300, 1200), 1e-9)
    for (const kelvin of [900, 1200, 2500])
      expectClose(at(kelvin).slope, at(kelvin - 0.5).residual - at(kelvin + 0.5).residual, 1e-4)
    const brighter = levelEquation({ ...measured, value: measured.value + 0.3 }, 1200)
    expectClose(brighter.residual - at(1200).residual, 0.3, 1e-9)
  })

  test('a camera whose red lies elsewhere errs the more the further two heats are apart', () => {
    const measured = levelOf()
    const bandOf = (kelvin: number) => levelEquation(measured, kelvin).band
    const apart = bandOf(1500) - bandOf(1100)
    expectClose(apart / lnRedOver('camera', 1500, 1100), 0.01, 1e-9)
  })
})
