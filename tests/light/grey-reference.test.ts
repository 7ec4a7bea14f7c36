import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { bradford } from '../../src/colour/adaptation.ts'
import { xyFromXyz, xyzFromXy } from '../../src/colour/chromaticity.ts'
import { D65 } from '../../src/colour/daylight.ts'
import { linearP3FromXyz, xyzFromLinearP3 } from '../../src/colour/rgb-spaces.ts'
import { planckXyz } from '../../src/colour/xyz.ts'
import { type CardLightId, lightColour } from '../../src/light/card-light.ts'
import { balanceFromGrey, measureGrey } from '../../src/light/grey-reference.ts'
import type { LightImage, LinearColour, Region } from '../../src/light/image.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import { type Triple, transform } from '../../src/numerics/matrix3.ts'
import { DAYLIGHT, exact, LAMP } from './cards.ts'
import { normal, picture, type Scene } from './pictures.ts'

describe('gains from a grey card', () => {
  const light = fc.oneof(
    fc.constantFrom<CardLightId>(
      { kind: 'daylight', illuminant: 'D65' },
      { kind: 'daylight', illuminant: 'D55' },
      { kind: 'daylight', illuminant: 'D50' },
    ),
    fc
      .integer({ min: 1800, max: 3400 })
      .map(
        (t): CardLightId => ({ kind: 'filament', colourTemperatureK: t, standardUncertaintyK: 30 }),
      ),
    fc
      .record({
        x: fc.double({ min: 0.28, max: 0.5, noNaN: true }),
        y: fc.double({ min: 0.3, max: 0.42, noNaN: true }),
      })
      .map(({ x, y }): CardLightId => ({ kind: 'measured', x, y, standardUncertainty: 0.003 })),
  )
  const level = fc.double({ min: 0.05, max: 0.9, noNaN: true })

  it('carry the card to the chromaticity of its light', () => {
    fc.assert(
      fc.property(light, level, level, level, (stated, r, g, b) => {
        const { logGains } = balanceFromGrey({ card: exact([r, g, b]), light: stated })
        const balanced: Triple = [
          r * Math.exp(logGains[0]),
          g * Math.exp(logGains[1]),
          b * Math.exp(logGains[2]),
        ]
        const xy = xyFromXyz(xyzFromLinearP3(balanced))!
        const expected = lightColour(stated).xy
        expect(Math.abs(xy.x - expected.x)).toBeLessThan(1e-9)
        expect(Math.abs(xy.y - expected.y)).toBeLessThan(1e-9)
        expect(logGains[0]).toBe(0)
      }),
    )
  })

  it('do not make a lamp white: red stays above green above blue under 2700 K', () => {
    // A camera that renders the card under the lamp as it is: gains are 1.
    const lamp = linearP3FromXyz(planckXyz(2700))
    const gains = balanceFromGrey({ card: exact(lamp), light: LAMP }).logGains
    for (const g of gains) expect(Math.abs(g)).toBeLessThan(1e-6)
    // A camera that made the card grey is turned back to orange.
    const undone = balanceFromGrey({ card: exact([0.5, 0.5, 0.5]), light: LAMP }).logGains
    expect(undone[1]).toBeLessThan(-0.6)
    expect(undone[2]).toBeLessThan(undone[1])
  })

  it('have the covariance that drawing card and light at random shows', () => {
    // First order against a symmetric difference of the chromaticity, one direction at a time.
    const card: LinearColour = {
      mean: [0.5, 0.45, 0.3],
      covariance: [
        [1e-4, 2e-5, 0],
        [2e-5, 8e-5, 1e-5],
        [0, 1e-5, 9e-5],
      ],
    }
    const stated = { kind: 'measured', x: 0.4, y: 0.39, standardUncertainty: 0.004 } as const
    const { covariance } = balanceFromGrey({ card, light: stated })
    const gain = (mean: Triple, x: number, y: number) =>
      balanceFromGrey({ card: exact(mean), light: { ...stated, x, y } }).logGains[1]
    const h = 1e-6
    const dx = (gain(card.mean, 0.4 + h, 0.39) - gain(card.mean, 0.4 - h, 0.39)) / (2 * h)
    const dy = (gain(card.mean, 0.4, 0.39 + h) - gain(card.mean, 0.4, 0.39 - h)) / (2 * h)
    const cardPart = 1e-4 / 0.25 + 8e-5 / 0.2025 - (2 * 2e-5) / (0.5 * 0.45)
    const spectral = lightColour(stated).spectral.green
    const undoing = 0.4 * gain(card.mean, 0.4, 0.39)
    const expected = cardPart + (dx * dx + dy * dy) * 0.004 ** 2 + spectral ** 2 + undoing ** 2
    expect(Math.abs(covariance[1][1] / expected - 1)).toBeLessThan(1e-3)
    expect(covariance[0]).toEqual([0, 0, 0])
  })

  it('err together by the red of the card, to which both are related', () => {
    // ln G - ln R and ln B - ln R share ln R: its variance is their covariance (JCGM 102, 6.2.1.3).
    const noise = { red: 0.02, green: 0.01, blue: 0.03 }
    const mean: Triple = [0.4, 0.5, 0.25]
    const sd = [noise.red * mean[0], noise.green * mean[1], noise.blue * mean[2]] as const
    const card: LinearColour = {
      mean,
      covariance: [
        [sd[0] ** 2, 0, 0],
        [0, sd[1] ** 2, 0],
        [0, 0, sd[2] ** 2],
      ],
    }
    const { covariance } = balanceFromGrey({ card, light: DAYLIGHT, channels: 'camera' })
    expect(covariance[1][2]).toBeCloseTo(noise.red ** 2, 9)
    expect(covariance[2][1]).toBeCloseTo(noise.red ** 2, 9)
    expect(covariance[1][1]).toBeCloseTo(noise.red ** 2 + noise.green ** 2, 9)
    expect(covariance[2][2]).toBeCloseTo(noise.red ** 2 + noise.blue ** 2, 9)
    expect(covariance[0]).toEqual([0, 0, 0])
  })

  it('carry the card to equal channels in raw', () => {
    const { logGains, light } = balanceFromGrey({
      card: exact([0.2, 0.5, 0.35]),
      light: LAMP,
      channels: 'camera',
    })
    expect(0.5 * Math.exp(logGains[1])).toBeCloseTo(0.2, 12)
    expect(0.35 * Math.exp(logGains[2])).toBeCloseTo(0.2, 12)
    expect(light).toEqual({
      kind: 'filament',
      colourTemperatureK: 2700,
      standardUncertaintyK: 50,
    })
  })

  it('differ from Bradford adaptation by less than the covariance allows for undoing a balance', () => {
    // A camera balanced for D50 shows a D65 card bluish. Both ways of undoing it, on a glow.
    const glow = planckXyz(1173)
    const d50 = lightColour({ kind: 'daylight', illuminant: 'D50' }).xy
    const seen = (xyz: Triple) => transform(bradford(d50, D65), xyz)
    const card = linearP3FromXyz(seen(xyzFromXy(D65)))
    const { logGains, covariance } = balanceFromGrey({ card: exact(card), light: DAYLIGHT })
    const [r, g] = linearP3FromXyz(seen(glow))
    const [trueR, trueG] = linearP3FromXyz(glow)
    const byBradford = Math.log(trueG / trueR) - Math.log(g / r)
    const difference = logGains[1] - byBradford
    // Measured: 0.056 of 0.15, which would be 20 K at 1173 K.
    expect(Math.abs(logGains[1])).toBeGreaterThan(0.1)
    expect(Math.abs(difference)).toBeGreaterThan(0.02)
    expect(Math.abs(difference)).toBeLessThan(Math.sqrt(covariance[1][1]))
  })

  it('cost nothing where the camera is locked on the light of the card', () => {
    const white = linearP3FromXyz(xyzFromXy(D65))
    const { covariance } = balanceFromGrey({ card: exact(white), light: DAYLIGHT })
    const light = lightColour(DAYLIGHT)
    // Daylight of +-500 K: about 17 K at 1173 K, and nothing on top.
    expect(Math.sqrt(covariance[1][1])).toBeLessThan(0.055)
    expect(Math.sqrt(covariance[1][1])).toBeGreaterThan(light.spectral.green)
  })
})

describe('a grey region', () => {
  const REGION: Region = { shape: 'rectangle', x: 20, y: 20, width: 80, height: 60 }
  const measure = (scene: Scene, region = REGION, light: CardLightId = DAYLIGHT) =>
    measureGrey(toLinearLight(picture(140, 100, scene)), region, light)
  const grey = (level: number): Triple => [level, level, level]
  const refusal = (m: ReturnType<typeof measure>) => m.findings.map((f) => f.code)

  it('is taken when it is grey, also under a lamp and in a light falling off', () => {
    expect(refusal(measure(() => [0.4, 0.41, 0.39]))).toEqual([])
    expect(refusal(measure(() => [0.5, 0.25, 0.08], REGION, LAMP))).toEqual([])
    const falling: Scene = (x) => [0.3 + x / 500, 0.3 + x / 500, 0.3 + x / 500]
    expect(refusal(measure(falling))).toEqual([])
  })

  it.each<[string, Scene, Region | undefined]>([
    ['clipped', () => [1.1, 0.95, 0.8], undefined],
    ['dark', () => [0.004, 0.004, 0.004], undefined],
    ['on the glow', () => [0.5, 0.05, 0.006], undefined],
    ['too small', () => [0.4, 0.4, 0.4], { ...REGION, width: 6, height: 6 }],
    ['empty', () => [0.4, 0.4, 0.4], { ...REGION, x: 500 }],
    ['uneven', (x) => (x < 60 ? [0.5, 0.5, 0.5] : [0.15, 0.15, 0.15]), undefined],
    ['uneven', (x) => (x < 60 ? [0.4, 0.4, 0.4] : [0.4, 0.35, 0.3]), undefined],
  ])('is refused as %s, with numbers', (code, scene, region) => {
    const m = measure(scene, region)
    expect(refusal(m)).toEqual([code])
    expect(m.refused).toBe(true)
    for (const value of Object.values(m.findings[0]!.values)) expect(value).toBeTypeOf('number')
    expect(JSON.parse(JSON.stringify(m))).toEqual(m)
  })

  it.each<[string, readonly string[], Scene]>([
    ['two fifths as green as red', ['on the glow'], () => [0.5, 0.2, 0.1]],
    ['three fifths', [], () => [0.5, 0.3, 0.2]],
    ['halves of which one has half the light', ['uneven'], (x) => grey(x < 60 ? 0.5 : 0.24)],
    ['halves of which one has two thirds', [], (x) => grey(x < 60 ? 0.5 : 0.33)],
  ])('of %s is judged %j', (_title, codes, scene) => {
    expect(refusal(measure(scene))).toEqual(codes)
  })

  it.each<[string, readonly string[], Scene, number]>([
    ['9 by 9 pixels', ['too small'], () => grey(0.4), 9],
    ['11 by 11 pixels', [], () => grey(0.4), 11],
    ['1.7 % of full scale', ['dark'], () => grey(0.017), 80],
    ['2.4 % of full scale', [], () => grey(0.024), 80],
    ['halves that differ by a factor of 1.75', [], (x) => grey(x < 60 ? 0.525 : 0.3), 80],
    ['halves that differ by a factor of 1.95', ['uneven'], (x) => grey(x < 60 ? 0.585 : 0.3), 80],
    ['halves 6 % apart in colour', [], (x) => [0.4, x < 60 ? 0.4 : 0.3765, 0.4], 80],
    ['halves 9 % apart in colour', ['uneven'], (x) => [0.4, x < 60 ? 0.4 : 0.366, 0.4], 80],
  ])('close to a limit is judged on its side of it: %s', (_title, codes, scene, side) => {
    // Without noise; the light falls over the card by less than half between its ends.
    const still = toLinearLight(picture(140, 100, scene, { shot: 0, read: 0 }))
    const region = { ...REGION, width: side, height: Math.min(side, 60) }
    expect(refusal(measureGrey(still, region, DAYLIGHT))).toEqual(codes)
  })

  it('without any blue is too dark to balance it by', () => {
    const still = picture(140, 100, () => [0.4, 0.35, 0], { shot: 0, read: 0 })
    expect(refusal(measureGrey(toLinearLight(still), REGION, DAYLIGHT))).toEqual(['dark'])
  })

  it('is dark where a channel is not known to a twentieth of itself (common practice)', () => {
    // Blue in 64 cells of 16 x 16 pixels, each off by itself: an eighth of their spread is left.
    const side = 128
    const card = (relative: number): LightImage => {
      const noise = normal(3)
      const cells = Array.from({ length: 64 }, () => 0.1 * (1 + 8 * relative * noise()))
      const rgb = new Float32Array(3 * side * side)
      for (let i = 0; i < side * side; i++) {
        const cell = 8 * Math.floor(i / side / 16) + Math.floor((i % side) / 16)
        rgb.set([0.4, 0.35, cells[cell]!], 3 * i)
      }
      const flags = new Uint8Array(side * side)
      return { width: side, height: side, channels: 'camera', rgb, flags }
    }
    const whole: Region = { shape: 'rectangle', x: 0, y: 0, width: side, height: side }
    const codes = (relative: number) => refusal(measureGrey(card(relative), whole, DAYLIGHT))
    expect(codes(0.042)).toEqual([])
    expect(codes(0.06)).toEqual(['dark'])
  })

  it('on the glow is refused under any light, for a lamp is never that red', () => {
    expect(refusal(measure(() => [0.5, 0.06, 0.01], REGION, LAMP))).toEqual(['on the glow'])
  })

  it('on the glow is what is half as green as a card in that light would be, or less', () => {
    // A card in daylight has equal channels.
    const codes = (green: number) => refusal(measure(() => [0.5, green, 0.2], REGION, DAYLIGHT))
    expect(codes(0.24)).toEqual(['on the glow'])
    expect(codes(0.26)).not.toContain('on the glow')
  })
})
