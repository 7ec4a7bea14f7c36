import { describe, expect, it } from 'vitest'
import { CLIPPED, type Region } from '../../src/light/image.ts'
import { measureGlow } from '../../src/light/measure-glow.ts'
import { measureWithoutStrayLight, withoutStrayLight } from '../../src/light/stray-light.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import { barScene, picture, type Scene } from './pictures.ts'

const GLOW = [0.4, 0.04, 0.008] as const
const BAR = { x: 40, y: 40, width: 120, height: 60 }
const REGION: Region = { shape: 'rectangle', x: 52, y: 48, width: 96, height: 44 }
/** Lamp light on the bar and beside it, brighter to the right: no ring could tell it. */
const lamp: Scene = (x) => {
  const level = 0.01 + 0.04 * (x / 200)
  return [level, 0.8 * level, 0.5 * level]
}
const both: Scene = (x, y) => {
  const [a, b] = [barScene(GLOW, BAR, [0, 0, 0])(x, y), lamp(x, y)]
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}
const light = (scene: Scene, seed: number) => toLinearLight(picture(200, 140, scene, { seed }))
const options = { chromaSubsampled: false, exposureRatio: 1 }
const ratio = ({ mean }: { readonly mean: readonly number[] }) => mean[1]! / mean[0]!

describe('stray light', () => {
  it('is taken off by a photo of the lights alone, better than by the ring', () => {
    const glow = light(both, 1)
    const result = measureWithoutStrayLight(glow, light(lamp, 2), REGION, options)
    if (result.kind === 'refused') expect.fail(result.reason)
    expect(Math.abs(ratio(result.measurement.glow) / 0.1 - 1)).toBeLessThan(0.02)
    const withoutPhoto = measureGlow(glow, REGION, { chromaSubsampled: false })
    expect(Math.abs(ratio(withoutPhoto.patch.colour) / 0.1 - 1)).toBeGreaterThan(0.3)
    expect(result.findings.map((f) => f.code)).toEqual(['stray light'])
    // 0.03 * 0.8 of 0.04 on the average.
    expect(result.stray.share[1]).toBeGreaterThan(0.5)
    expect(result.stray.share[1]).toBeLessThan(0.7)
    expect(JSON.parse(JSON.stringify(result))).toEqual(result)
  })

  it('scales with the exposure', () => {
    const halved: Scene = (x, y) => {
      const [r, g, b] = lamp(x, y)
      return [r / 2, g / 2, b / 2]
    }
    const result = measureWithoutStrayLight(light(both, 1), light(halved, 2), REGION, {
      ...options,
      exposureRatio: 2,
    })
    if (result.kind === 'refused') expect.fail(result.reason)
    expect(Math.abs(ratio(result.measurement.glow) / 0.1 - 1)).toBeLessThan(0.03)
  })

  it('leaves its own uncertainty behind', () => {
    const glow = light(both, 1)
    const with5 = measureWithoutStrayLight(glow, light(lamp, 2), REGION, options)
    if (with5.kind === 'refused') expect.fail(with5.reason)
    const { covariance } = with5.measurement.glow
    // 5 % of 0.024.
    expect(Math.sqrt(covariance[1][1])).toBeGreaterThan(0.001)
  })

  it('where a lamp is clipped says nothing about the glow before it', () => {
    const bright: Scene = (x, y) => (x > 180 && y < 20 ? [2, 2, 2] : lamp(x, y))
    const image = withoutStrayLight(light(both, 1), light(bright, 2), 1)
    expect(image.flags[190]! & CLIPPED).toBe(CLIPPED)
    expect(image.flags[70 * 200 + 100]! & CLIPPED).toBe(0)
  })

  it('is warned of when it outshines the glow', () => {
    const strong: Scene = (x, y) => {
      const g = barScene(GLOW, BAR, [0, 0, 0])(x, y)
      return [g[0] + 0.1, g[1] + 0.09, g[2] + 0.08]
    }
    const result = measureWithoutStrayLight(
      light(strong, 1),
      light(() => [0.1, 0.09, 0.08], 2),
      REGION,
      options,
    )
    if (result.kind === 'refused') expect.fail(result.reason)
    expect(result.findings[0]!.code).toBe('stray light exceeds glow')
    expect(result.findings[0]!.weight).toBe('warning')
  })

  it('needs two pictures of one size and kind', () => {
    const glow = light(both, 1)
    const small = toLinearLight(picture(100, 140, lamp))
    expect(measureWithoutStrayLight(glow, small, REGION, options)).toEqual({
      kind: 'refused',
      reason: 'sizes differ',
    })
    expect(
      measureWithoutStrayLight(glow, { ...light(lamp, 2), channels: 'camera' }, REGION, options),
    ).toEqual({ kind: 'refused', reason: 'channels differ' })
  })
})
