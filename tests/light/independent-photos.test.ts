/**
 * Photos rendered by another program from measured camera sensitivities, sRGB, tone curves of both
 * kinds, two JPEG qualities. What the camera would deliver is computed from the sensitivities; black
 * body, white balance locked on D65.
 */
import { readFileSync } from 'node:fs'
import { describe, expect, it } from 'vitest'
import { measureSweep } from '../../src/light/exposure-sweep/measure-sweep.ts'
import { applyToneCurve } from '../../src/light/exposure-sweep/tone-curve.ts'
import { findGlow } from '../../src/light/find-glow.ts'
import { measureGrey } from '../../src/light/grey-reference.ts'
import type { Region, StoredImage } from '../../src/light/image.ts'
import { measureGlow } from '../../src/light/measure-glow.ts'
import { measurePhoto } from '../../src/light/measure-photo.ts'
import {
  deliveredP3,
  glowSpectrum,
  simulateCamera,
} from '../../src/light/simulate/simulated-camera.ts'
import { toLinearLight } from '../../src/light/tone-response.ts'
import { decodeJpeg } from '../decode-jpeg.ts'
import { PHOTO_SETS, type PhotoSet, photoPath, readCamera, readTraining } from '../measured-data.ts'

/** The bar is 300 x 43 pixels in the middle of 400 x 300. */
const BAR = { x: 50, y: 128, width: 300, height: 44 }
const REGION: Region = { shape: 'rectangle', x: 64, y: 136, width: 272, height: 28 }
const CARD: Region = { shape: 'rectangle', x: 120, y: 80, width: 160, height: 140 }

function load(file: string): StoredImage {
  const { width, height, data } = decodeJpeg(readFileSync(photoPath(file)))
  // Ten times faster than Float32Array.from with a function.
  const codes = new Float32Array(data).map((v) => v / 255)
  return { width, height, space: 'srgb', codes }
}

/** ln(G/R) that the camera would deliver in linear Display P3, and how it rises with temperature. */
function expected(set: PhotoSet, temperatureK: number) {
  const camera = simulateCamera(readCamera(set.camera), readTraining(), 'daylight')
  const at = (kelvin: number) => {
    const [r, g] = deliveredP3(camera, glowSpectrum(kelvin))
    return Math.log(g / r)
  }
  return { ratio: at(temperatureK), perKelvin: at(temperatureK + 1) - at(temperatureK) }
}

describe('photos of another program', () => {
  it.each(PHOTO_SETS.map((s) => [s.set, s] as const))(
    '%s: the glow is found inside the bar',
    (_, s) => {
      for (const { file, ev } of s.files.glow.filter((f) => f.ev <= -1 && f.ev >= -3)) {
        const found = findGlow(load(file))
        expect(found.kind, `${file} ${ev}`).toBe('found')
        if (found.kind !== 'found') continue
        const r = found.region
        expect(r.x >= BAR.x && r.x + r.width <= BAR.x + BAR.width).toBe(true)
        expect(r.y >= BAR.y && r.y + r.height <= BAR.y + BAR.height).toBe(true)
      }
      expect(findGlow(load(s.files.card)).kind).toBe('none')
    },
  )

  it.each(PHOTO_SETS.map((s) => [s.set, s] as const))('%s: the card is grey and usable', (_, s) => {
    const m = measureGrey(toLinearLight(load(s.files.card)), CARD, {
      kind: 'daylight',
      illuminant: 'D65',
    })
    expect(m.findings).toEqual([])
    // Locked on the light of the card: equal channels, to the code's step.
    expect(Math.abs(m.card.mean[1] / m.card.mean[0] - 1)).toBeLessThan(0.01)
  })

  it('set2: a linear photo gives what the camera delivers', () => {
    const s = PHOTO_SETS.find((t) => t.toneCurve.kind === 'none')!
    const { ratio, perKelvin } = expected(s, s.glowTemperatureK)
    const { file } = s.files.glow.find((f) => f.ev === -1)!
    const m = measurePhoto(load(file), REGION, { chromaSubsampled: false })
    const error = Math.log(m.glow.mean[1] / m.glow.mean[0]) - ratio
    expect(Math.abs(error / perKelvin)).toBeLessThan(5)
    const sd = Math.sqrt(m.glow.covariance[1][1]) / m.glow.mean[1]
    expect(Math.abs(error)).toBeLessThan(2 * sd)
  })

  const sweeps = PHOTO_SETS.flatMap((s) =>
    (['glow', 'salt'] as const).map((what) => [`${s.set} ${what}`, s, what] as const),
  )
  it.each(sweeps)('%s: the sweep gives it back whatever the tone curve', (name, s, what) => {
    const temperatureK = what === 'glow' ? s.glowTemperatureK : s.saltTemperatureK
    const { ratio, perKelvin } = expected(s, temperatureK)
    const frames = s.files[what].map(({ file, ev }) => ({
      image: load(file),
      relativeExposure: 2 ** ev,
    }))
    const fine = s.jpegQuality >= 90
    const steps = fine ? { luma: 2, chroma: 2 } : { luma: 6, chroma: 7 }
    const m = measureSweep(frames, REGION, { steps })
    if (m.kind === 'refused') throw new Error(m.reason)
    const error = Math.log(m.glow.mean[1] / m.glow.mean[0]) - ratio
    if (
      m.findings.some(({ code, weight }) => code === 'both kinds averaged' && weight === 'warning')
    ) {
      // Its brightest frame is clipped in 7 % of the pixels, the next shows too little shoulder.
      expect(name).toBe('set5 salt')
      expect(Math.abs(error)).toBeLessThan(1.96 * m.standardUncertaintyGreen)
      expect(m.standardUncertaintyGreen).toBeGreaterThan(0.05)
      return
    }
    // Measured: at most 1.7 K; the goals are 5 K at quality 95 and 12 K at quality 80.
    expect(Math.abs(error / perKelvin)).toBeLessThan(fine ? 5 : 12)
    expect(Math.abs(error)).toBeLessThan(2 * m.standardUncertaintyGreen)
    if (s.toneCurve.kind !== 'none') expect(m.curve.kind).toBe(s.toneCurve.kind)
    if (what === 'salt') return

    // The curve kept, and applied to one photo of the salt.
    const salt = expected(s, s.saltTemperatureK)
    const photo = load(s.files.salt.find((f) => f.ev === -1)!.file)
    const light = applyToneCurve(m.curve, photo)
    const one = measureGlow(light, REGION, { chromaSubsampled: !fine }).glow.mean
    const single = (Math.log(one[1] / one[0]) - salt.ratio) / salt.perKelvin
    expect(Math.abs(single), `single photo through the kept curve, K`).toBeLessThan(15)
  })
})
