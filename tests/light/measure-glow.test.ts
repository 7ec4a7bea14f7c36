import { describe, expect, it } from 'vitest'
import type { Region } from '../../src/light/image.ts'
import { measureGlow } from '../../src/light/measure-glow.ts'
import { measurePhoto, surroundings } from '../../src/light/measure-photo.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import { barScene, picture, type Scene } from './pictures.ts'

const GLOW = [0.5, 0.05, 0.006] as const
const BAR = { x: 60, y: 80, width: 280, height: 60 }
const REGION: Region = { shape: 'rectangle', x: 80, y: 90, width: 240, height: 40 }
const measure = (scene: Scene, region = REGION, chromaSubsampled = false) =>
  measureGlow(toLinearLight(picture(400, 240, scene)), region, { chromaSubsampled })
const codes = (m: { findings: readonly { code: string }[] }) => m.findings.map((f) => f.code)

describe('a glow is measured', () => {
  it('without findings on a clean bar, the same after a round through JSON', () => {
    const m = measure(barScene(GLOW, BAR))
    expect(m.refused).toBe(false)
    expect(codes(m)).toEqual([])
    expect(Math.abs(m.glow.mean[1] / m.glow.mean[0] / 0.1 - 1)).toBeLessThan(0.02)
    expect(JSON.parse(JSON.stringify(m))).toEqual(m)
  })

  it('with its background taken off, whether the region ends inside the glow or at its edge', () => {
    const veil = [0.03, 0.02, 0.02] as const
    const veiled: Scene = (x, y) => {
      const s = barScene(GLOW, BAR, [0, 0, 0])(x, y)
      return [s[0] + veil[0], s[1] + veil[1], s[2] + veil[2]]
    }
    for (const region of [REGION, { shape: 'rectangle', ...BAR } as const]) {
      const m = measure(veiled, region)
      expect(m.background).not.toBeNull()
      for (const c of [0, 1] as const) {
        expect(Math.abs(m.glow.mean[c] / GLOW[c] - 1)).toBeLessThan(0.02)
        // What lies in front of the glow is not quite what lies beside it.
        expect(Math.sqrt(m.glow.covariance[c][c])).toBeGreaterThan(0.25 * veil[c])
      }
      expect(codes(m)).toContain('background')
      expect(m.background!.share[1]).toBeGreaterThan(0.35)
      expect(m.background!.share[1]).toBeLessThan(0.45)
      // The veil is white, the glow is not: bluer by far.
      expect(m.background!.tint!.greenOverRed).toBeGreaterThan(1)
      expect(m.background!.tint!.blueOverRed).toBeGreaterThan(m.background!.tint!.greenOverRed)
    }
  })

  it('stays plain data where the surroundings are brighter in blue than the glow', () => {
    const m = measure(barScene(GLOW, BAR, [0.02, 0.02, 0.02]))
    expect(m.background!.share[2]).toBeGreaterThan(1)
    expect(m.background!.share.every(Number.isFinite)).toBe(true)
    expect(JSON.parse(JSON.stringify(m))).toEqual(m)
  })

  it('and black whose noise is cut off at zero is not taken for light, four stops down', () => {
    const dull = GLOW.map((v) => v / 16) as unknown as typeof GLOW
    for (const read of [0.0005, 0.001, 0.002]) {
      const dark = picture(400, 240, barScene(dull, BAR, [0, 0, 0]), { read })
      const m = measureGlow(toLinearLight(dark), REGION, { chromaSubsampled: false })
      // 2 % of G/R are 7 K at 1173 K; taking the cut noise off makes it 6 to 24 % (0.4 of the noise).
      expect(Math.abs(m.glow.mean[1] / m.glow.mean[0] / 0.1 - 1)).toBeLessThan(0.03)
    }
  })

  it('says when no dark surroundings are in view', () => {
    const m = measure(() => GLOW)
    expect(m.background).toBeNull()
    expect(codes(m)).toContain('background not seen')
  })

  it('shows an uneven glow with its hottest part, and noise as none', () => {
    // ln(G/R) rises by 0.4 along the bar: some 140 K. Red rises too: one that stays put is clipped.
    const scene: Scene = (x, y) => {
      const ratio = 0.08 * Math.exp((0.4 * (x - 60)) / 280)
      const red = 0.35 + (0.3 * (x - 60)) / 280
      return barScene([red, red * ratio, 0.006], BAR)(x, y)
    }
    const m = measure(scene)
    expect(codes(m)).toContain('uneven')
    // A rise of 0.4 * 240/280 over the region, evenly spread: sd = range / sqrt(12).
    expect(m.unevenness.lnGreenOverRedSd).toBeGreaterThan(0.09)
    expect(m.unevenness.lnGreenOverRedSd).toBeLessThan(0.11)
    expect(m.unevenness.hottest!.region.x).toBeGreaterThan(280)
    expect(m.unevenness.coolest!.region.x).toBeLessThan(100)
    const hot = m.unevenness.hottest!.colour.mean
    expect(hot[1] / hot[0]).toBeGreaterThan(1.12 * (m.glow.mean[1] / m.glow.mean[0]))
    expect(measure(barScene(GLOW, BAR)).unevenness.lnGreenOverRedSd).toBeLessThan(0.01)
  })

  it('warns of a glow too thin for the colour resolution of the file, at any slope', () => {
    for (const width of [5, 8, 9, 12]) {
      const slanted: Scene = (x, y) =>
        Math.abs((x - 200) * 0.6 - (y - 120) * 0.8) <= width / 2 ? GLOW : [0.0005, 0.0005, 0.0005]
      const region: Region = { shape: 'ellipse', x: 190, y: 112, width: 20, height: 16 }
      const m = measure(slanted, region, true)
      expect(Math.abs(m.quality.glowWidthPixels / width - 1)).toBeLessThan(0.25)
      if (width <= 8) expect(codes(m)).toContain('thin glow')
      if (width >= 12) expect(codes(m)).not.toContain('thin glow')
      expect(codes(measure(slanted, region, false))).not.toContain('thin glow')
    }
  })

  it('refuses dark, clipped and empty regions, weightiest first', () => {
    expect(codes(measure(() => [0.0003, 0.0002, 0.0002]))).toEqual(['dark'])
    expect(codes(measure(() => [1.4, 0.2, 0.05]))).toEqual(['clipped'])
    expect(codes(measure(() => GLOW, { ...REGION, x: 900 }))).toEqual(['empty'])
    expect(measure(() => [1.4, 0.2, 0.05]).refused).toBe(true)
  })

  it('says when green or blue is at the floor', () => {
    const m = measure(barScene([0.3, 0.0002, 0], BAR, [0, 0, 0]))
    expect(codes(m)).toEqual(expect.arrayContaining(['green at floor', 'blue at floor']))
    expect(codes(m).indexOf('green at floor')).toBeLessThan(codes(m).indexOf('blue at floor'))
  })

  it('reads the same from a crop that holds the surroundings', () => {
    const image = picture(400, 240, barScene(GLOW, BAR))
    const region: Region = { shape: 'rectangle', x: 150, y: 96, width: 40, height: 24 }
    const whole = measurePhoto(image, region, { chromaSubsampled: false })
    const box = surroundings(region, 400, 240)
    const [width, height] = [box.right - box.left, box.bottom - box.top]
    const codesOfCrop = new Float32Array(3 * width * height)
    for (let y = 0; y < height; y++) {
      const from = 3 * ((y + box.top) * 400 + box.left)
      codesOfCrop.set(image.codes.subarray(from, from + 3 * width), 3 * y * width)
    }
    const crop = measurePhoto(
      { ...image, width, height, codes: codesOfCrop },
      { ...region, x: region.x - box.left, y: region.y - box.top },
      { chromaSubsampled: false },
    )
    expect(crop.patch).toEqual(whole.patch)
    expect(crop.storedLevels).toEqual(whole.storedLevels)
    expect(Math.abs(crop.glow.mean[1] / whole.glow.mean[1] - 1)).toBeLessThan(0.002)
  })
})
