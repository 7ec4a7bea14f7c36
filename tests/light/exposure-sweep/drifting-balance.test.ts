import { describe, expect, it } from 'vitest'
import { measureSweep } from '../../../src/light/exposure-sweep/measure-sweep.ts'
import type { SweepFrame } from '../../../src/light/exposure-sweep/sweep-result.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { picture } from '../pictures.ts'
import { CHANNEL, codes, glow, KELVIN, LOSSLESS, measured, ratioOf, TRUTH } from './bar-sweep.ts'
import { REGION, rendered, sweepOf } from './sweeps.ts'

describe('an automatic white balance that drifts during a sweep', () => {
  /** ln of green over red, photo by photo: no straight line, which would pass for a cooling glow. */
  const MOVED = [0, 0.12, 0.05, 0.2, 0.28, 0.2, 0.35, 0.3, 0.4, 0.1]
  const GAIN = (k: number): Triple => [Math.exp(-MOVED[k]!), 1, Math.exp(0.8 * MOVED[k]!)]
  const frames = sweepOf({ tone: CHANNEL, light: glow(), fading: GAIN })
  /** A card in each frame, under light that stays as it is. */
  const withCards = (level: number) =>
    frames.map((frame, k) => {
      const [r, g, b] = GAIN(k)
      const light = level * frame.relativeExposure
      const card = picture(64, 64, () => [light * r, light * 1.05 * g, light * 0.9 * b], {
        space: 'display-p3',
        shot: 0.015,
        read: 0.0004,
        seed: 300 + k,
        encode: (v) => rendered(CHANNEL, v),
      })
      return { ...frame, card }
    })

  /** A grey wall in a lit shop, far from the bar. */
  const withWall = (list: readonly SweepFrame[], gains: (k: number) => Triple) =>
    list.map((frame, k) => {
      const { width, height, codes: before } = frame.image
      const light = 0.4 * frame.relativeExposure
      const [r, g, b] = gains(k)
      const wall = rendered(CHANNEL, [light * r, light * g, light * b])
      const away = (at: number, size: number) => at < 10 || at >= size - 10
      const painted = before.map((code, i) => {
        const p = Math.floor(i / 3)
        const [x, y] = [p % width, Math.floor(p / width)]
        return away(x, width) || away(y, height) ? Math.round(255 * wall[i % 3]!) / 255 : code
      })
      return { ...frame, image: { ...frame.image, codes: painted } }
    })

  it('is taken out by a card in each frame, frame by frame', () => {
    const blind = measured(measureSweep(frames, REGION, LOSSLESS))
    expect(Math.abs(ratioOf(blind) - TRUTH)).toBeGreaterThan(20 * KELVIN)
    // Cards from 0.3 to 0.8 of full scale: 3.9 K rms.
    const m = measured(measureSweep(withCards(0.4), REGION, LOSSLESS))
    expect(Math.abs(ratioOf(m) - TRUTH)).toBeLessThan(5 * KELVIN)
    expect(codes(m)).toContain('balance followed')
  })

  it('shows in the surroundings where there is no card, and is counted', () => {
    const light = glow()
    const read = (gains: (k: number) => Triple) =>
      measured(
        measureSweep(withWall(sweepOf({ tone: CHANNEL, light, gains }), gains), REGION, LOSSLESS),
      )
    const moved = read(GAIN)
    expect(codes(moved)).toContain('balance moved')
    expect(Math.abs(ratioOf(moved) - TRUTH)).toBeLessThan(2 * moved.standardUncertaintyGreen)
    expect(codes(read(() => [1, 1, 1]))).not.toContain('balance moved')
  })

  it('is refused where the card cannot be read', () => {
    expect(measureSweep(withCards(0.002), REGION, LOSSLESS)).toMatchObject({
      kind: 'refused',
      reason: 'card not seen',
    })
  })
})
