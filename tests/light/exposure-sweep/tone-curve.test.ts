import fc from 'fast-check'
import { beforeAll, describe, expect, it } from 'vitest'
import { decodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { CHECK_LEAVES, checkToneCurve } from '../../../src/light/exposure-sweep/check-tone-curve.ts'
import { measureSweep } from '../../../src/light/exposure-sweep/measure-sweep.ts'
import { bendWeights } from '../../../src/light/exposure-sweep/response.ts'
import type { SweepMeasurement } from '../../../src/light/exposure-sweep/sweep-result.ts'
import {
  applyToneCurve,
  codesFromLight,
  lightFromCode,
  type ToneCurve,
  toneCurveUncertainty,
} from '../../../src/light/exposure-sweep/tone-curve.ts'
import { CLIPPED, FLOOR_GREEN } from '../../../src/light/image.ts'
import { measurePatch } from '../../../src/light/patch.ts'
import { storedLevels } from '../../../src/light/stored-levels.ts'
import { toLinearLight } from '../../../src/light/tone-response.ts'
import { seeded } from '../../accuracy/random.ts'
import { lightFor, REGION, softToneOf, sweepOf, type Tone } from './sweeps.ts'

const LOSSLESS = { luma: 1, chroma: 1 }
const TONES: Record<'channel' | 'ratio', Tone> = {
  channel: softToneOf('channel', 1.15, 0.4),
  ratio: softToneOf('ratio', 1.15, 0.4),
}
const kept = {} as Record<'channel' | 'ratio', ToneCurve>
const swept = {} as Record<'channel' | 'ratio', SweepMeasurement>

beforeAll(() => {
  for (const kind of ['channel', 'ratio'] as const) {
    const tone = TONES[kind]
    const red = lightFor(tone, 0.92)
    const result = measureSweep(sweepOf({ tone, light: [red, 0.1 * red, 0.03 * red] }), REGION, {
      steps: LOSSLESS,
    })
    if (result.kind === 'refused') throw new Error(result.reason)
    // What the kit does with it: through JSON and back.
    kept[kind] = JSON.parse(JSON.stringify(result.curve))
    swept[kind] = result
  }
})

/** One later photo of another glow, brighter or darker than anything in the sweep. */
const later = (tone: Tone, redLevel: number, greenOverRed: number) => {
  const red = lightFor(tone, redLevel)
  return sweepOf({ tone, light: [red, greenOverRed * red, 0.03 * red], stops: [0] })[0]!.image
}

describe('a kept tone curve', () => {
  it.each(['channel', 'ratio'] as const)('makes one later photo linear: %s', (kind) => {
    for (const [redLevel, greenOverRed] of [
      [0.8, 0.16],
      [0.5, 0.1],
      [0.3, 0.07],
    ] as const) {
      const image = later(TONES[kind], redLevel, greenOverRed)
      const { mean } = measurePatch(applyToneCurve(kept[kind], image), REGION).colour
      const error = Math.log(mean[1] / mean[0]) - Math.log(greenOverRed)
      const stated = toneCurveUncertainty(kept[kind], storedLevels(image, REGION))
      // 0.02 is 7 K at 1173 K; left alone the curve costs 0.05 to 0.2.
      expect(Math.abs(error)).toBeLessThan(0.02)
      expect(Math.abs(error)).toBeLessThan(2.5 * Math.hypot(stated.green, stated.own))
      expect(stated.covered).toBe(true)
      const untouched = measurePatch(toLinearLight(image), REGION).colour.mean
      const without = Math.log(untouched[1] / untouched[0]) - Math.log(greenOverRed)
      if (kind === 'channel') expect(Math.abs(without)).toBeGreaterThan(0.05)
      else expect(Math.abs(without)).toBeLessThan(0.02)
    }
  })

  it('is less certain of codes further apart, and says where it was not seen', () => {
    const near = toneCurveUncertainty(kept.channel, [0.5, 0.4, 0.2])
    const far = toneCurveUncertainty(kept.channel, [0.9, 0.15, 0.1])
    expect(far.green).toBeGreaterThan(near.green)
    expect(toneCurveUncertainty(kept.channel, [0.9, 0.004, 0.003]).covered).toBe(false)
    expect(toneCurveUncertainty(kept.ratio, [0.9, 0.15, 0.1]).green).toBe(0)
  })

  it('errs by causes that add up to its covariance', () => {
    const levels = [
      [0.8, 0.25, 0.1],
      [0.6, 0.2, 0.1],
      [0.5, 0.15, 0.1],
    ] as const
    const { basis } = kept.channel.response
    const entry = (i: number, j: number) =>
      kept.channel.covariance[i >= j ? (i * (i + 1)) / 2 + j : (j * (j + 1)) / 2 + i]!
    const weights = levels.map(([r, g]) => {
      const one = new Array<number>(basis.size).fill(0)
      for (const [code, sign] of [
        [g, 1],
        [r, -1],
      ] as const) {
        const { index, weights: w } = bendWeights(basis, Math.log(decodeTransfer(code)))
        for (let k = 0; k < 4; k++) one[index + k]! += sign * w[k]!
      }
      return one
    })
    const errors = levels.map((level) => toneCurveUncertainty(kept.channel, level).greenErrors)
    for (const a of [0, 1, 2])
      for (const b of [0, 1, 2]) {
        // w' V w, JCGM 102:2011, 6.2.1.3, against the sum of products over the causes.
        let direct = 0
        for (let i = 0; i < basis.size; i++)
          for (let j = 0; j < basis.size; j++)
            direct += weights[a]![i]! * weights[b]![j]! * entry(i, j)
        const byCause = errors[a]!.reduce((sum, error, k) => sum + error * errors[b]![k]!, 0)
        expect(Math.abs(byCause - direct)).toBeLessThan(1e-9)
      }
  })

  it('errs for a later photo in part as it did for its own sweep', () => {
    const { greenErrors, standardUncertaintyGreen } = swept.channel
    const shared = Math.hypot(...greenErrors)
    expect(shared).toBeGreaterThan(0.3 * standardUncertaintyGreen)
    expect(shared).toBeLessThanOrEqual(standardUncertaintyGreen)
    // As bright as the brightest frame; between two frames the curve has errors of its own.
    const photo = toneCurveUncertainty(kept.channel, [0.964, 0.324, 0.16]).greenErrors
    const apart = Math.hypot(...photo.map((error, cause) => error - greenErrors[cause]!))
    expect(apart).toBeLessThan(0.8 * Math.hypot(shared, Math.hypot(...photo)))
    expect(swept.ratio.greenErrors).toEqual([])
  })

  it.each(['channel', 'ratio'] as const)(
    'gives light its codes and codes their light: %s',
    (kind) => {
      for (const light of [
        [0.6, 0.05, 0.02],
        [0.2, 0.02, 0.004],
      ] as const) {
        const codes = Float32Array.from(codesFromLight(kept[kind], light))
        const one = { width: 1, height: 1, space: 'display-p3' as const, codes }
        const { rgb } = applyToneCurve(kept[kind], one)
        for (const c of [0, 1, 2] as const)
          expect(Math.abs(rgb[c]! / light[c] - 1)).toBeLessThan(0.01)
      }
    },
  )

  it('keeps the flags of the file and is exact between 8-bit codes', () => {
    const image = {
      width: 2,
      height: 1,
      space: 'display-p3' as const,
      codes: Float32Array.of(1, 0, 0.1, 0.5, 0.25, 0.1),
    }
    const light = applyToneCurve(kept.channel, image)
    expect(light.flags[0]! & CLIPPED).toBe(CLIPPED)
    expect(light.flags[0]! & FLOOR_GREEN).toBe(FLOOR_GREEN)
    expect(light.flags[1]).toBe(0)
    fc.assert(
      fc.property(fc.double({ min: 0.05, max: 1, noNaN: true }), (code) => {
        const one = applyToneCurve(kept.channel, {
          ...image,
          width: 1,
          codes: Float32Array.of(code, 0.1, 0.1),
        })
        const exact = lightFromCode(kept.channel, Math.fround(code))
        expect(Math.abs(one.rgb[0]! / exact - 1)).toBeLessThan(2e-3)
      }),
    )
  })
})

describe('whether a kept curve still holds', () => {
  const two = (tone: Tone, exposureError: (k: number) => number = () => 1) => {
    const red = lightFor(tone, 0.85)
    return sweepOf({
      tone,
      light: [red, 0.14 * red, 0.03 * red],
      stops: [0, -2],
      exposureError,
    })
  }

  it('is seen on two photos of different exposure', () => {
    for (const kind of ['channel', 'ratio'] as const) {
      const check = checkToneCurve(kept[kind], two(TONES[kind]), REGION, LOSSLESS)
      expect(check).toMatchObject({ kind: 'checked', agrees: true })
      if (check.kind === 'checked') expect(check.residual).toBeLessThan(0.03)
    }
  })

  it('and so is that it does not: another contrast, or an exposure off by half a stop', () => {
    for (const contrast of [0.9, 1.07, 1.24]) {
      const other = softToneOf('channel', contrast, 0.4)
      expect(checkToneCurve(kept.channel, two(other), REGION, LOSSLESS)).toMatchObject({
        agrees: false,
      })
    }
    expect(
      checkToneCurve(
        kept.channel,
        two(TONES.channel, (k) => (k === 1 ? Math.SQRT2 : 1)),
        REGION,
        LOSSLESS,
      ),
    ).toMatchObject({ agrees: false })
  })

  it('leaves open as much as is stated', () => {
    const random = seeded(7)
    const normal = () => random.normal()
    // Contrast moved by 4 % and exposures rounded by 2 %, standard deviations: the drawing stands for
    // what is judged in the docstrings, the check is the real one.
    const passed: number[] = []
    for (let i = 0; i < 200; i++) {
      const moved = 0.04 * normal()
      const frames = two(softToneOf('channel', 1.15 * Math.exp(moved), 0.4), () =>
        Math.exp(0.02 * normal()),
      )
      const check = checkToneCurve(kept.channel, frames, REGION, LOSSLESS)
      if (check.kind === 'checked' && check.agrees) passed.push(moved)
    }
    const rms = Math.sqrt(passed.reduce((sum, v) => sum + v * v, 0) / passed.length)
    // Three standard errors of an rms of some 150 draws: 1 / sqrt(2 n) = 6 %.
    expect(2 * rms).toBeGreaterThan(0.84 * CHECK_LEAVES)
    expect(2 * rms).toBeLessThan(1.16 * CHECK_LEAVES)
  })

  it('cannot be told from one photo, or from two alike, or in another colour space', () => {
    const frames = two(TONES.channel)
    const reason = (...f: typeof frames) => {
      const check = checkToneCurve(kept.channel, f, REGION, LOSSLESS)
      return check.kind === 'not possible' ? check.reason : 'checked'
    }
    expect(reason(frames[0]!)).toBe('too few frames')
    expect(reason(frames[0]!, { ...frames[0]!, relativeExposure: 1.1 })).toBe(
      'exposures do not differ',
    )
    const srgb = frames.map((f) => ({ ...f, image: { ...f.image, space: 'srgb' as const } }))
    expect(reason(...srgb)).toBe('other colour space')
  })
})
