import { describe, expect, test } from 'vitest'
import type { LevelConditions } from '../../../src/estimate/types.ts'
import type { PhotoMeasurement } from '../../../src/light/measure-photo.ts'
import {
  FIRST_CHOICES,
  glowInput,
  levelConditions,
  surfaceOf,
  windowOf,
} from '../../../src/session/reading/glow-input.ts'
import { NO_FACTS } from '../../../src/sources/files/photo-facts.ts'
import { colour, reading, salt, seen } from '../../estimate/inputs.ts'

const { glow, quality, channels, linearity, balance, cameraId } = reading(seen(1173))
const inputOf = (change: Partial<Parameters<typeof glowInput>[0]> = {}) =>
  glowInput({
    measurement: { glow, quality } as PhotoMeasurement,
    channels,
    cameraToXyz: null,
    linearity,
    balance,
    choices: FIRST_CHOICES,
    cameraId,
    faithfulColours: false,
    takenAt: null,
    references: [],
    level: null,
    ...change,
  })

describe('what a reading rests on', () => {
  test('is what was measured and said, and nothing where nothing was', () => {
    expect(inputOf()).toEqual({
      glow,
      channels,
      cameraToXyz: null,
      balance,
      balanceState: { kind: 'unknown', colourTemperatureK: null },
      linearity,
      quality,
      surface: surfaceOf(''),
      window: null,
      cameraId,
      takenAt: null,
      references: [],
    })
    expect(inputOf({ leakTests: [] })).not.toHaveProperty('leakTests')
  })

  test('is light from elsewhere, tests of the filter and faithful colours where there are such', () => {
    const swept = colour(0.08, 0.004)
    const leakTests = [{ test: 'hot plate', seen: false }] as const
    const level = { exposureSeconds: 0.01, iso: 100, fNumber: 2, fieldRadius: 0.1 }
    expect(inputOf({ glow: swept, leakTests, faithfulColours: true, level })).toMatchObject({
      glow: swept,
      leakTests,
      faithfulColours: true,
      level,
    })
  })

  test('is one piece with known heats of its material only where a person says so', () => {
    const steel = { ...salt(), surface: surfaceOf('steel-oxidised') }
    const hole = { ...salt(), surface: surfaceOf('cavity') }
    const of = (samePiece?: boolean) =>
      inputOf({
        references: [steel, hole],
        choices: {
          ...FIRST_CHOICES,
          materialId: 'steel-oxidised',
          ...(samePiece !== undefined && { samePiece }),
        },
      })
    for (const not of [of(), of(false)]) {
      expect(not.references).toEqual([steel, hole])
      expect(not.surface).not.toHaveProperty('piece')
    }
    const one = of(true)
    expect(one.surface.piece).toBeTruthy()
    expect(one.references.map(({ surface }) => surface.piece)).toEqual([
      one.surface.piece,
      undefined,
    ])
  })
})

test('a surface that nobody knows is grey, and less sure than one that is known', () => {
  const unknown = surfaceOf('no such surface')
  expect([unknown.id, unknown.lnGreenOverRed]).toEqual(['no such surface', 0])
  expect(unknown.standardUncertainty).toBeGreaterThan(
    surfaceOf('steel-oxidised').standardUncertainty,
  )
  // De Vos 1954 at 1600 K: tungsten emits 0.448 at 650 nm, and more towards the blue.
  expect(surfaceOf('tungsten-bare').lnGreenOverRed).toBeGreaterThan(0)
})

test('what stands in front is named by its pane; nothing is none', () => {
  expect(windowOf('none')).toBeNull()
  expect(windowOf('glass')).toMatchObject({ id: 'glass' })
  // Window glass takes more of the red than of the green.
  expect(windowOf('glass')!.lnGreenOverRed).toBeGreaterThan(0)
})

describe('the level of a photo', () => {
  const region = { shape: 'rectangle', x: 0, y: 0, width: 20, height: 20 } as const
  const stated = { exposureSeconds: 0.01, iso: 100, fNumber: 2 }
  const of = (facts: object) =>
    levelConditions({ facts: { ...NO_FACTS, ...facts }, width: 160, height: 120 }, region)

  test('is comparable where the file states the whole exposure, by its place before the lens', () => {
    // From the middle of the picture to that of the region, over half the diagonal: 70 and 50 of 100.
    expect(of(stated)).toMatchObject({ ...stated, fieldRadius: Math.hypot(70, 50) / 100 })
  })

  test.each(['exposureSeconds', 'iso', 'fNumber'])('is not without %s', (missing) => {
    expect(of({ ...stated, [missing]: null })).toBeNull()
  })
})

const LONG: LevelConditions = { exposureSeconds: 1 / 15, iso: 100, fNumber: 2, fieldRadius: 0.1 }
const SHORT: LevelConditions = { ...LONG, exposureSeconds: 1 / 125 }
const measured = { lnOff: -0.06, standardUncertainty: 0.01 }

test('a setting that was measured counts so for the reading and for known heats of its camera', () => {
  const own = { ...salt(), level: LONG }
  const unmeasured = { ...salt(), id: 'short', level: SHORT }
  const others = { ...salt(), id: 'other', cameraId: 'another camera', level: LONG }
  const { level, references } = inputOf({
    references: [own, unmeasured, others],
    level: LONG,
    exposures: [{ exposureSeconds: 1 / 15, iso: 100, fNumber: 2, ...measured }],
  })
  expect(level).toEqual({ ...LONG, measured })
  expect(references.map((one) => one.level)).toEqual([{ ...LONG, measured }, SHORT, LONG])
})
