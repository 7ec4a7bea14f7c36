import { expect, test } from 'vitest'
import type { LevelConditions } from '../../../src/estimate/types.ts'
import type { PhotoMeasurement } from '../../../src/light/measure-photo.ts'
import { FIRST_CHOICES, glowInput } from '../../../src/session/reading/glow-input.ts'
import { reading, salt, seen } from '../../estimate/inputs.ts'

const LONG: LevelConditions = { exposureSeconds: 1 / 15, iso: 100, fNumber: 2, fieldRadius: 0.1 }
const SHORT: LevelConditions = { ...LONG, exposureSeconds: 1 / 125 }
const measured = { lnOff: -0.06, standardUncertainty: 0.01 }

const inputOf = (references: Parameters<typeof glowInput>[0]['references']) => {
  const { glow, quality, channels, linearity, balance, cameraId } = reading(seen(1173))
  return glowInput({
    measurement: { glow, quality } as PhotoMeasurement,
    channels,
    cameraToXyz: null,
    linearity,
    balance,
    choices: FIRST_CHOICES,
    cameraId,
    faithfulColours: false,
    takenAt: null,
    references,
    level: LONG,
    exposures: [{ exposureSeconds: 1 / 15, iso: 100, fNumber: 2, ...measured }],
  })
}

test('a setting that was measured counts so for the reading and for known heats of its camera', () => {
  const own = { ...salt(), level: LONG }
  const unmeasured = { ...salt(), id: 'short', level: SHORT }
  const others = { ...salt(), id: 'other', cameraId: 'another camera', level: LONG }
  const { level, references } = inputOf([own, unmeasured, others])
  expect(level).toEqual({ ...LONG, measured })
  expect(references.map((one) => one.level)).toEqual([{ ...LONG, measured }, SHORT, LONG])
})
