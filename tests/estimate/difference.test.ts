import { describe, expect, it } from 'vitest'
import { decodeTransfer, linearP3FromSrgb } from '../../src/colour/rgb-spaces.ts'
import {
  ofOnePiece,
  type TemperatureDifference,
  temperatureDifference,
} from '../../src/estimate/difference.ts'
import { jointSpread } from '../../src/estimate/joint-spread.ts'
import type { LevelConditions } from '../../src/estimate/types.ts'
import type { Triple } from '../../src/numerics/matrix3.ts'
import { practiceCode, practiceGlow } from '../../src/sources/live/practice-camera.ts'
import { colour, reading, reference, salt, seen, temperature } from './inputs.ts'

const PIECE = { id: 'steel', lnGreenOverRed: 0, standardUncertainty: 0.01 }

describe('the difference of two readings by one camera', () => {
  const cold = reading(seen(1148), { surface: PIECE })
  const hot = reading(seen(1198), { surface: PIECE })

  it('is far surer than either reading, and lies within its interval', () => {
    const found = temperatureDifference(cold, hot)!
    const alone = temperature(hot).expandedUncertaintyK
    const half = (found.interval95K[1] - found.interval95K[0]) / 2
    expect(alone).toBeGreaterThan(100)
    // A lock that holds to 0.005 in ln(G/R) leaves 4.8 K of it (Wien, 2 sd, two photos).
    expect(half).toBeLessThan(16.5)
    expect(found.interval95K[0]).toBeLessThan(50)
    expect(found.interval95K[1]).toBeGreaterThan(50)
    expect(found.correlation).toBeGreaterThan(0.985)
  })

  it('turns its sign with the order, and is nothing between a reading and itself', () => {
    const there = temperatureDifference(cold, hot)!
    const back = temperatureDifference(hot, cold)!
    expect(back.differenceK).toBeCloseTo(-there.differenceK, 1)
    expect(back.standardUncertaintyK).toBeCloseTo(there.standardUncertaintyK, 1)
    const same = temperatureDifference(cold, cold)!
    expect(Math.abs(same.differenceK)).toBeLessThan(1e-6)
    expect(same.interval95K[0]).toBeLessThan(0)
    expect(same.interval95K[1]).toBeGreaterThan(0)
  })

  it('keeps the sign of the camera’s error on both sides of a known heat', () => {
    // Below salt and above it the camera errs in opposite directions: the difference is less sure than
    // that of two readings equally far apart on one side.
    const references = [salt()]
    const across = temperatureDifference(
      reading(seen(1023), { references, surface: PIECE }),
      reading(seen(1123), { references, surface: PIECE }),
    )!
    const uA = temperature(reading(seen(1023), { references, surface: PIECE }))
    const uB = temperature(reading(seen(1123), { references, surface: PIECE }))
    // Taken as one error that errs alike in both, the camera would leave almost nothing.
    const part = (of: typeof uA, term: string) =>
      of.budget.find((entry) => entry.term === term)?.standardUncertaintyK ?? 0
    const unsigned = Math.hypot(
      part(uA, 'camera') - part(uB, 'camera'),
      part(uA, 'reference temperature') - part(uB, 'reference temperature'),
      part(uA, 'pixel noise'),
      part(uB, 'pixel noise'),
    )
    expect(across.standardUncertaintyK).toBeGreaterThan(1.3 * unsigned)
  })

  it('has none between cameras, or where one has no temperature', () => {
    expect(temperatureDifference(cold, { ...hot, cameraId: 'another' })).toBeNull()
    expect(
      temperatureDifference(cold, {
        ...hot,
        balanceState: { kind: 'lamp', colourTemperatureK: null },
      }),
    ).toBeNull()
    const dark = { ...hot, glow: { ...hot.glow, mean: [0, 0, 0] as const } }
    expect(temperatureDifference(cold, dark)).toBeNull()
  })
})

const LEVEL: LevelConditions = { exposureSeconds: 0.01, iso: 100, fNumber: 1.8, fieldRadius: 0.2 }
/** c2 = 14 388 K um (ITS-90) at the mean wavelength of the mean camera's red, 0.632 um. */
const brighter = (kelvin: number, thanK: number) =>
  Math.exp((14388 / 0.632) * (1 / thanK - 1 / kelvin))
/** The same photo with all levels moved. */
const atLevel = (glow: ReturnType<typeof seen>, level: number) => {
  const [r, g, b] = glow.mean
  return colour(g / r, b / r, 0.002, level)
}

describe('brightness joined with colour', () => {
  const heat = reference(1073.6, 6, atLevel(seen(1073.6), 0.1), { level: LEVEL, surface: PIECE })
  const bright = (kelvin: number, factor: number, change = {}) =>
    reading(atLevel(seen(kelvin), 0.1 * brighter(kelvin, 1073.6) * factor), {
      surface: PIECE,
      references: [heat],
      level: LEVEL,
      ...change,
    })

  it('is surer than colour alone, and says so', () => {
    const colourAlone = temperature(reading(seen(1173), { surface: PIECE, references: [salt()] }))
    const joined = temperature(bright(1173, 1))
    expect(joined.findings).toContainEqual(expect.objectContaining({ code: 'brightness joined' }))
    expect(joined.standardUncertaintyK).toBeLessThan(0.95 * colourAlone.standardUncertaintyK)
    expect(Math.abs(joined.temperatureK - 1173)).toBeLessThan(3)
    // The melt itself: 6 K x (1173 / 1073.6)² by brightness is 7.2 K, no less than 6.5 joined.
    expect(joined.standardUncertaintyK).toBeGreaterThan(5)
    const squares = joined.budget.reduce((sum, t) => sum + t.standardUncertaintyK ** 2, 0)
    expect(squares).toBeCloseTo(joined.standardUncertaintyK ** 2, 6)
  })

  it('is overruled by colour where the level cannot be that of the colour', () => {
    const lost = temperature(bright(1173, 0.2))
    expect(lost.findings).toContainEqual({ code: 'brightness overruled' })
    const colourAlone = temperature(reading(seen(1173), { surface: PIECE, references: [salt()] }))
    expect(Math.abs(lost.temperatureK - colourAlone.temperatureK)).toBeLessThan(5)
  })

  it.each([0.5, 2])(
    'moves a reading at 1000 K little where it is %s times what it should be',
    (factor) => {
      const joined = temperature(bright(1000, factor))
      const alone = temperature(reading(seen(1000), { surface: PIECE, references: [heat] }))
      const moved = Math.abs(joined.temperatureK - alone.temperatureK)
      // A factor of two is 30 K by brightness alone: c2 / (0.632 um) = 22 766 K, T² ln 2 / 22 766 K.
      expect(moved).toBeLessThan(0.3 * alone.standardUncertaintyK)
    },
  )

  it.each([0.05, 20])('says nothing where it is %s times what it should be', (factor) => {
    const joined = temperature(bright(1173, factor))
    const alone = temperature(reading(seen(1173), { surface: PIECE, references: [heat] }))
    expect(Math.abs(joined.temperatureK - alone.temperatureK)).toBeLessThan(1)
    expect(joined.standardUncertaintyK / alone.standardUncertaintyK).toBeCloseTo(1, 1)
  })

  it('counts less where exposure, place or surface differ from the known heat’s', () => {
    const u = (change: object) => temperature(bright(1173, 1, change)).standardUncertaintyK
    const same = u({})
    expect(u({ level: { ...LEVEL, fieldRadius: 0.9 } })).toBeGreaterThan(same)
    expect(u({ surface: { ...PIECE, id: 'stainless-oxidised' } })).toBeGreaterThan(same)
  })

  it('counts exposures that were measured by what they gather, not by their labels', () => {
    const long = { ...LEVEL, exposureSeconds: 1 / 15 }
    // 1/15 s that is 1/16 s: labels alone make it 6 % too dark, 4 K of brightness.
    const labels = bright(1173, (15 / 16) * (1 / 15 / 0.01), { level: long })
    const measured = (lnOff: number, of: LevelConditions) => ({
      ...of,
      measured: { lnOff, standardUncertainty: 0.01 },
    })
    const told = {
      ...labels,
      level: measured(Math.log(15 / 16), long),
      references: [{ ...heat, level: measured(0, LEVEL) }],
    }
    const [before, after] = [temperature(labels), temperature(told)]
    expect(after.temperatureK).toBeGreaterThan(before.temperatureK + 0.5)
    expect(after.standardUncertaintyK).toBeLessThan(before.standardUncertaintyK)
  })

  it('joins by a kept curve that both photos have in common, and by no other', () => {
    const curve = (curveId: string) =>
      ({
        kind: 'sweep',
        curveId,
        standardUncertaintyGreen: 0.01,
        standardUncertaintyBlue: 0.02,
      }) as const
    const u = (own: string, heats: string) =>
      temperature(
        bright(1173, 1, {
          linearity: curve(own),
          references: [{ ...heat, linearity: curve(heats) }],
        }),
      ).standardUncertaintyK
    expect(u('kept', 'kept')).toBeLessThan(0.97 * u('kept', 'another'))
  })

  it('is not used behind glass, in ordinary photos, or on a thread thinner than the blur', () => {
    const codes = (change: object) =>
      temperature(bright(1173, 1, change)).findings.map(({ code }) => code)
    const window = { id: 'glass', lnGreenOverRed: 0, standardUncertainty: 0.01 }
    expect(codes({ window })).not.toContain('brightness joined')
    const { quality } = reading(seen(1173))
    expect(codes({ quality: { ...quality, glowWidthPixels: 4 } })).not.toContain(
      'brightness joined',
    )
  })

  it('makes a difference surer still', () => {
    const pair = (level: boolean) =>
      temperatureDifference(
        ofOnePiece(bright(1148, 1, level ? {} : { level: undefined })),
        ofOnePiece(bright(1198, 1, level ? {} : { level: undefined })),
      )!
    expect(pair(true).levels).toBe('joined')
    expect(pair(true).standardUncertaintyK).toBeLessThan(pair(false).standardUncertaintyK)
    expect(2 * pair(true).standardUncertaintyK).toBeLessThan(4.5)
    // Of two pieces the emissivities differ: 6 % each are 5 K of the difference.
    const apart = temperatureDifference(bright(1148, 1), bright(1198, 1))!
    expect(apart.standardUncertaintyK).toBeGreaterThan(1.3 * pair(true).standardUncertaintyK)
  })
})

describe('two frames of a stream with its exposure locked', () => {
  /** A frame of the practice bench, whose tone curve nobody tells the estimate. */
  const frame = (kelvin: number, stream: boolean) => {
    const codes = practiceGlow(kelvin).map((light) => practiceCode(light * 0.4))
    const [r, g, b] = linearP3FromSrgb(codes.map(decodeTransfer) as unknown as Triple)
    return ofOnePiece(
      reading(colour(g / r, b / r, 0.002, r), {
        surface: PIECE,
        balanceState: { kind: 'daylight', colourTemperatureK: null },
        linearity: {
          kind: 'single',
          curveId: 'stream',
          storedLevels: codes as unknown as Triple,
          space: 'srgb',
        },
        level: { ...LEVEL, ...(stream && { stream: true }) },
      }),
    )
  }
  const half = ({ interval95K: [low, high] }: TemperatureDifference) => (high - low) / 2

  it('are told apart by brightness too, though their tone curve is not known', () => {
    for (const [from, to] of [
      [1220, 1250],
      [1250, 1235],
    ] as const) {
      const byColour = temperatureDifference(frame(from, false), frame(to, false))!
      const joined = temperatureDifference(frame(from, true), frame(to, true))!
      expect(byColour.levels).toBe('none')
      expect(joined.levels).toBe('joined')
      expect(half(joined)).toBeLessThan(0.5 * half(byColour))
      expect(joined.interval95K[0]).toBeLessThan(to - from)
      expect(joined.interval95K[1]).toBeGreaterThan(to - from)
    }
  })
})

describe('several readings by one camera', () => {
  it('share nearly all of their uncertainty: a common part, and small ones against each other', () => {
    const inputs = [1140, 1150, 1160].map((kelvin) => reading(seen(kelvin), { surface: PIECE }))
    const spread = jointSpread(inputs)!
    const alone = temperature(inputs[1]!).standardUncertaintyK
    // One is a standard deviation, the other half of a 95 % interval over 1.96: with the cameras' heavy
    // tails the two differ by some 10 %.
    expect(spread.commonK / alone).toBeGreaterThan(0.8)
    expect(spread.commonK / alone).toBeLessThan(1.2)
    for (const own of spread.ownK) expect(own).toBeLessThan(0.1 * alone)
    expect(jointSpread([inputs[0]!, { ...inputs[1]!, cameraId: 'another' }])).toBeNull()
  })
})
