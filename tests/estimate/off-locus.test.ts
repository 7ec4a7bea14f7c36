import { expect, test } from 'vitest'
import { CAMERA_LOCUS } from '../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../src/estimate/camera-model.ts'
import { cameraPosterior } from '../../src/estimate/camera-posterior.ts'
import type { Conditioned } from '../../src/estimate/conditioning.ts'
import { readingEquation } from '../../src/estimate/glow-equations.ts'
import { glowProblem } from '../../src/estimate/glow-problem.ts'
import { offLocus } from '../../src/estimate/off-locus.ts'
import type { LinearColour } from '../../src/light/image.ts'
import { colour, DAYLIGHT, reading, reference, STEEL, seen, temperature } from './inputs.ts'

const KNOWN = { ...STEEL, standardUncertainty: 0 }

test('light that adds blue may have added as much green: so much is G/R in doubt, in raw too', () => {
  const model = cameraModel(CAMERA_LOCUS, 'camera', DAYLIGHT)
  const raw = (kelvin: number, more: { green?: number; blue?: number } = {}) =>
    colour(
      Math.exp(model.green(kelvin).mean) + (more.green ?? 0),
      Math.exp(model.blue(kelvin).mean) + (more.blue ?? 0),
    )
  const change = { channels: 'camera', linearity: { kind: 'raw' }, surface: KNOWN } as const
  const references = [1073, 1173, 1273].map((t) => reference(t, 0.5, raw(t), change))
  const read = (glow: LinearColour) => temperature(reading(glow, { ...change, references }))
  const blindToBlue = { ...reading(raw(1173)).quality, floorShare: [0, 0, 0.9] as const }
  const byGreen = (green: number) =>
    temperature(reading(raw(1173, { green }), { ...change, references, quality: blindToBlue }))
      .temperatureK
  for (const [excess, verdict] of [
    [0.012, 'too blue'],
    [-0.015, 'too yellow'],
  ] as const) {
    const off = read(raw(1173, { blue: excess }))
    expect(off.offLocus.verdict).toBe(verdict)
    // Foreign light says nothing of the temperature: it makes the reading unsure, not another.
    expect(Math.abs(off.temperatureK - read(raw(1173)).temperatureK)).toBeLessThan(5)
    const widening = off.budget.find(({ term }) => term === 'off locus')!.standardUncertaintyK
    const expected = Math.abs(byGreen(excess) - byGreen(-excess)) / 2
    // The slope of the locus differs over so wide an interval, and a leak may explain a part.
    expect(widening / expected).toBeGreaterThan(0.65)
    expect(widening / expected).toBeLessThan(1.3)
  }
})

test('a slope of the surface counts about twice in blue, which lies twice as far from red as green', () => {
  // Dominant wavelengths of Display P3's primaries, nm (from memory).
  const [red, green, blue] = [615, 544, 464]
  const references = [1073, 1123, 1173, 1223, 1273].map((t) =>
    reference(t, 0.5, seen(t), { surface: KNOWN }),
  )
  const glow = seen(1173)
  const blueOverRed = (1.6 * glow.mean[2]) / glow.mean[0]
  const bluer = colour(glow.mean[1] / glow.mean[0], blueOverRed)
  const chiSquared = (standardUncertainty: number) => {
    const surface = { ...STEEL, piece: 'another', standardUncertainty }
    return temperature(reading(bluer, { references, surface })).offLocus.chiSquared
  }
  // Chi squared is excess^2 over variance: its reciprocal grows by what the surface adds.
  const excess = blueOverRed - glow.mean[2] / glow.mean[0]
  const u = 0.1
  const added = excess ** 2 * (1 / chiSquared(u) - 1 / chiSquared(0))
  const times = Math.sqrt(added) / (u * blueOverRed)
  const expected = (red - blue) / (red - green)
  expect(times / expected).toBeGreaterThan(0.8)
  expect(times / expected).toBeLessThan(1.2)
})

test('a colour is off the locus where one true glow in a hundred would be as far off, not one in fifty', () => {
  // Student's t with 3 degrees of freedom: 5.841 at 1 %, 4.541 at 2 % two-sided (handbook tables), for
  // variance 1 over sqrt(3). Hypotheses of the camera are weighted, so the chance itself is looked at.
  const references = [1073, 1123, 1173, 1223, 1273].map((t) =>
    reference(t, 0.5, seen(t), { surface: KNOWN }),
  )
  const glow = seen(1173)
  const [greenOverRed, blueOverRed] = [glow.mean[1] / glow.mean[0], glow.mean[2] / glow.mean[0]]
  /** Blue times so much of what this camera should see: both sides of where the verdict changes. */
  const tested = (times: number) =>
    temperature(reading(colour(greenOverRed, times * blueOverRed), { references, surface: KNOWN }))
      .offLocus
  let [on, off] = [1, 3]
  for (let step = 0; step < 9; step++) {
    const middle = (on + off) / 2
    if (tested(middle).verdict === 'on the locus') on = middle
    else off = middle
  }
  expect(tested(on)).toMatchObject({ verdict: 'on the locus' })
  expect(tested(off)).toMatchObject({ verdict: 'too blue' })
  expect(tested(on).probability / 0.01).toBeCloseTo(1, 1)
  expect(tested(off).probability / 0.01).toBeCloseTo(1, 1)
})

test('a camera that green rules out has no say, however well it would explain the blue', () => {
  const references = [1073, 1173, 1273].map((t) => reference(t, 0.5, seen(t), { surface: KNOWN }))
  const glow = seen(1173)
  const [green, blue] = [glow.mean[1] / glow.mean[0], glow.mean[2] / glow.mean[0]]
  const input = reading(colour(green, 3 * blue), { references, surface: KNOWN })
  const problem = glowProblem(input, CAMERA_LOCUS)
  const posterior = cameraPosterior(problem)
  const alone = offLocus(posterior, 1173)
  expect(alone.verdict).toBe('too blue')
  // The same cameras, wrong by a tenth in green, and with as much blue as was measured.
  const others = posterior.hypotheses.map((one) => {
    const { loading } = readingEquation(problem, 1173, one.curve, one.camera)
    const predict = (of: readonly number[]) => {
      const usual = one.conditioned.predict(of)
      const isGreen = of.length === loading.length && of.every((v, i) => v === loading[i])
      return { ...usual, mean: usual.mean + (isGreen ? 0.1 : 2 * blue) }
    }
    const conditioned: Conditioned = Object.assign(Object.create(one.conditioned), { predict })
    return { ...one, conditioned }
  })
  const together = { ...posterior, hypotheses: [...posterior.hypotheses, ...others] }
  const found = offLocus(together, 1173)
  expect(found.verdict).toBe('too blue')
  expect(found.probability / alone.probability).toBeCloseTo(1, 3)
})
