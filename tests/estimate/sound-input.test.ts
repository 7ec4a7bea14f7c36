import { expect, test } from 'vitest'
import { sound } from '../../src/estimate/sound-input.ts'
import type { GlowInput } from '../../src/estimate/types.ts'
import { CARD, colour, reading, reference } from './inputs.ts'

const salt = reference(1073.8, 2, colour(0.05, 0.003))
const input = (change: Partial<GlowInput> = {}) =>
  reading(colour(0.09, 0.006), { references: [salt], balance: CARD, ...change })

test('what is known exactly is sound: no uncertainty of a melt, a surface, a window or a card', () => {
  expect(sound(input())).toBe(true)
  expect(sound(input({ references: [{ ...salt, standardUncertaintyK: 0 }] }))).toBe(true)
  expect(sound(input({ surface: { ...salt.surface, standardUncertainty: 0 } }))).toBe(true)
  const light = { ...CARD.light, standardUncertaintyK: 0 }
  expect(sound(input({ balance: { ...CARD, light } }))).toBe(true)
  expect(sound(input({ window: { lnGreenOverRed: 0.1, standardUncertainty: 0 } as never }))).toBe(
    true,
  )
})

test('a number that is none, or an uncertainty below zero, is not computed with', () => {
  const mean = (at: number) => colour(0.09, 0.006).mean.map((v, c) => (c === at ? Number.NaN : v))
  for (const at of [0, 1, 2])
    expect(sound(input({ glow: { ...colour(0.09, 0.006), mean: mean(at) as never } }))).toBe(false)
  const withReference = (change: object) => sound(input({ references: [{ ...salt, ...change }] }))
  expect(withReference({ standardUncertaintyK: -1 })).toBe(false)
  expect(withReference({ temperatureK: Number.NaN })).toBe(false)
  expect(withReference({ glow: { ...salt.glow, mean: [0.5, Number.POSITIVE_INFINITY, 0] } })).toBe(
    false,
  )
  expect(sound(input({ surface: { ...salt.surface, standardUncertainty: -0.01 } }))).toBe(false)
  expect(sound(input({ surface: { ...salt.surface, lnGreenOverRed: Number.NaN } }))).toBe(false)
  const light = (change: object) => ({ ...CARD, light: { ...CARD.light, ...change } })
  expect(sound(input({ balance: light({ colourTemperatureK: 0 }) }))).toBe(false)
  expect(sound(input({ balance: light({ standardUncertaintyK: -1 }) }))).toBe(false)
  expect(sound(input({ balance: { ...CARD, logGains: [0, Number.NaN, 0] as never } }))).toBe(false)
  expect(sound(input({ window: { lnGreenOverRed: 0.1, standardUncertainty: -1 } as never }))).toBe(
    false,
  )
})

test('a swept curve with a negative or missing uncertainty is not computed with', () => {
  const swept = (change: object = {}) =>
    sound(
      input({
        linearity: {
          kind: 'sweep',
          curveId: 'made up',
          standardUncertaintyGreen: 0,
          standardUncertaintyBlue: 0,
          ...change,
        } as never,
      }),
    )
  expect(swept()).toBe(true)
  expect(swept({ greenErrors: [0.01], ownUncertainty: 0, photos: 1 })).toBe(true)
  expect(swept({ standardUncertaintyGreen: -0.01 })).toBe(false)
  expect(swept({ standardUncertaintyBlue: Number.NaN })).toBe(false)
  expect(swept({ greenErrors: [Number.NaN] })).toBe(false)
  expect(swept({ ownUncertainty: -0.01 })).toBe(false)
  expect(swept({ photos: 0 })).toBe(false)
})
