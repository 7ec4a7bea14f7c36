import { describe, expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraPosterior } from '../../src/estimate/camera-posterior.ts'
import { glowProblem } from '../../src/estimate/glow-problem.ts'
import { joinable, jointOf, jointPosterior } from '../../src/estimate/joint-posterior.ts'
import { jointSpread } from '../../src/estimate/joint-spread.ts'
import { lnRedOver } from '../../src/estimate/level-equation.ts'
import type { GlowInput } from '../../src/estimate/types.ts'
import { expectClose } from '../close-to.ts'
import { colour, reading, reference, seen, temperature } from './inputs.ts'

const PIECE = { id: 'steel-oxidised', lnGreenOverRed: 0, standardUncertainty: 0.01, piece: 'bar' }
const LEVEL = { exposureSeconds: 0.01, iso: 100, fNumber: 2, fieldRadius: 0 }
/** As bright as its temperature makes it, against 0.3 of full scale at 1073.6 K. */
const lit = (kelvin: number) => {
  const { mean } = seen(kelvin)
  const red = 0.3 * Math.exp(lnRedOver('display-p3', kelvin, 1073.6))
  return colour(mean[1] / mean[0], mean[2] / mean[0], 0.002, red)
}
const salt = reference(1073.6, 6, lit(1073.6), { surface: PIECE, level: LEVEL })
const at = (kelvin: number, change: Partial<GlowInput> = {}): GlowInput =>
  reading(lit(kelvin), { surface: PIECE, references: [salt], level: LEVEL, ...change })
const colourOnly = (kelvin: number): GlowInput =>
  reading(lit(kelvin), {
    surface: PIECE,
    references: [reference(1073.6, 6, lit(1073.6), { surface: PIECE })],
  })
const joint = (inputs: readonly GlowInput[]) => jointPosterior(inputs, inputs.map(temperature))
/** One by itself: not held to where it may lie by its colour alone. */
const free = (input: GlowInput) =>
  jointOf(
    cameraPosterior(glowProblem(input, CAMERA_LOCUS)),
    [input],
    [temperature(input).colourTemperatureK],
  )

describe.each([
  ['by colour alone', colourOnly(1123)],
  ['by colour and brightness', at(1123)],
] satisfies [string, GlowInput][])('what is open of a reading, %s', (_, input) => {
  const { components, levels } = free(input)

  test('is in all its causes together, hypothesis by hypothesis', () => {
    expect(levels).toBe(input.level ? 'joined' : 'none')
    const sum = components.reduce((total, { weight }) => total + weight, 0)
    expect(sum).toBeCloseTo(1, 9)
    for (const { weight, causes, covarianceK2 } of components) {
      if (weight < 1e-3) continue
      const variance = [...causes.variances.values()].reduce((a, b) => a + b, 0)
      // The prior of a temperature, 500 K wide, takes some hundredths.
      expect(variance / covarianceK2[0]![0]!).toBeGreaterThan(0.94)
      expect(variance / covarianceK2[0]![0]!).toBeLessThan(1.001)
      const shared = causes.effects.reduce((total, { effect }) => total + effect ** 2, 0)
      expect(shared).toBeLessThanOrEqual(variance * (1 + 1e-9))
    }
  })

  test('has an error of a known heat and of the camera in it, with their names', () => {
    const { causes } = components.reduce((a, b) => (b.weight > a.weight ? b : a))
    for (const term of ['reference temperature', 'camera', 'grey reference'] as const)
      expect(causes.variances.get(term)).toBeGreaterThan(0)
    expect((causes.variances.get('brightness') ?? 0) > 0).toBe(levels === 'joined')
    expect(causes.variances.get('reference photo')).toBeGreaterThan(0)
  })
})

test('brightness makes a reading surer than colour alone, and agrees with it', () => {
  const [plain, joined] = [temperature(colourOnly(1123)), temperature(at(1123))]
  expect(joined.findings.map(({ code }) => code)).toContain('brightness joined')
  expect(joined.standardUncertaintyK).toBeLessThan(plain.standardUncertaintyK)
  expect(Math.abs(joined.temperatureK - plain.temperatureK)).toBeLessThan(
    2 * plain.standardUncertaintyK,
  )
  // Budget and ± belong together (JCGM 100, eq. 10).
  const squares = joined.budget.reduce((sum, one) => sum + one.standardUncertaintyK ** 2, 0)
  expectClose(Math.sqrt(squares), joined.standardUncertaintyK, 1e-6)
  expect(joined.budget.map(({ term }) => term)).toContain('brightness')
  expect(joined.dominant).toBe(joined.budget[0]!.term)
  const [low, high] = joined.interval95K
  expectClose((high - low) / 2, joined.expandedUncertaintyK, 1e-9)
  expectClose(joined.expandedUncertaintyK, 1.96 * joined.standardUncertaintyK, 1e-3)
  const told = joined.findings.find(({ code }) => code === 'brightness joined')
  expect(told).toMatchObject({ colourAloneK: plain.standardUncertaintyK })
})

test('readings can be put together of one camera in one state', () => {
  const one = at(1123)
  expect(joinable(one, at(1173))).toBe(true)
  for (const change of [
    { cameraId: 'other' },
    { channels: 'camera' },
    { balanceState: { kind: 'lamp', colourTemperatureK: null } },
    { balanceState: { kind: 'daylight', colourTemperatureK: 5000 } },
  ] as const)
    expect(joinable(one, at(1173, change))).toBe(false)
  const dark = at(1173, { glow: colour(0.1, 0.01, 0.002, 0) })
  expect(jointSpread([one, dark])).toBeNull()
})

test('a known heat measured anew counts once, by the later one', () => {
  const older = { ...salt, takenAt: '2001-04-01T12:00:00Z', standardUncertaintyK: 60 }
  const spread = (first: typeof salt, second: typeof salt) => {
    const inputs = [at(1123, { references: [first] }), at(1173, { references: [second] })]
    return joint(inputs).components.reduce((a, b) => (b.weight > a.weight ? b : a))
      .covarianceK2[0]![0]!
  }
  const same = spread(salt, salt)
  expect(spread(salt, older) / same).toBeGreaterThan(0.7)
  expect(spread(salt, older) / same).toBeLessThan(1.4)
  expect(spread(older, older)).toBeGreaterThan(1.5 * same)
})
