import { expect, test } from 'vitest'
import { encodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { CAMERA_LOCUS } from '../../../src/estimate/camera-locus/camera-locus.ts'
import { cameraModel } from '../../../src/estimate/camera-model.ts'
import type { LeakTestId } from '../../../src/estimate/leak-test-ids.ts'
import type { BalanceState } from '../../../src/estimate/types.ts'
import { measurePhoto } from '../../../src/light/measure-photo.ts'
import type { Triple } from '../../../src/numerics/matrix3.ts'
import { judgeLeak } from '../../../src/session/kit/leak-photo.ts'
import { NO_FACTS, type PhotoFacts } from '../../../src/sources/files/photo-facts.ts'
import type { Photo } from '../../../src/sources/photo/photo.ts'
import { seeded } from '../../accuracy/random.ts'

const DAYLIGHT: BalanceState = { kind: 'daylight', colourTemperatureK: null }
const REGION = { shape: 'rectangle', x: 80, y: 60, width: 60, height: 60 } as const

/** A square of this linear Display P3 before black, with a code and a half of noise, judged. */
function judge(test: LeakTestId, light: Triple, facts: Partial<PhotoFacts> = {}) {
  const [width, height] = [220, 180]
  const random = seeded(5)
  const codes = new Float32Array(3 * width * height)
  for (let i = 0; i < width * height; i++) {
    const inside = Math.abs((i % width) - 110) < 50 && Math.abs(Math.floor(i / width) - 90) < 50
    for (const c of [0, 1, 2] as const) {
      const code = (inside ? 255 * encodeTransfer(light[c]) : 1) + 1.5 * random.normal()
      codes[3 * i + c] = Math.min(Math.max(Math.round(code), 0), 255) / 255
    }
  }
  const image = { width, height, codes, space: 'display-p3' } as const
  const photo = {
    channels: 'display-p3',
    cameraToXyz: null,
    space: 'display-p3',
    facts: { ...NO_FACTS, ...facts },
  } as Photo
  const measured = measurePhoto(image, REGION, { chromaSubsampled: false })
  return judgeLeak(test, photo, measured, DAYLIGHT)
}

/** A plate of 475 °C as the mean camera sees it, red as bright as this. */
function plate(leak: number, red = 0.2): Triple {
  const model = cameraModel(CAMERA_LOCUS, 'display-p3', DAYLIGHT, {
    leak: { mean: leak, sd: 0, weight: 1 },
    rendered: false,
  })
  return [red, red * model.green(748).mean, red * model.blue(748).mean]
}

test.each([3e-5, 1e-4, 3e-4, 1e-3])('a plate’s picture tells a leak of %d within its ±', (leak) => {
  const judged = judge('hot plate', plate(leak))
  if (judged.kind !== 'result' || !judged.test.measured) throw new Error(judged.kind)
  const { leak: found, lnSd } = judged.test.measured
  expect(Math.abs(Math.log(found / leak))).toBeLessThan(1.5 * lnSd)
  // Six hundred times between the least and the largest that cameras have: ln 600 is 6.4.
  expect(lnSd).toBeLessThan(1.5)
})

test('a dark picture is a plate unseen, a clipped one or a green one none', () => {
  const dark = judge('hot plate', [0.0004, 0, 0])
  expect(dark).toEqual({ kind: 'result', test: { test: 'hot plate', seen: false } })
  expect(judge('hot plate', [1, 0.1, 0.3]).kind).toBe('clipped')
  expect(judge('hot plate', [0.1, 0.3, 0.01]).kind).toBe('no such plate')
})

test('a remote control’s lamp as bright as white of 300 lx means a leak of 0.0076', () => {
  // 300 lx on white of 0.8 are 76 cd/m², 0.3 W/(m² sr) at 250 lm/W; the lamp has 40. ISO 12232: 18 % grey
  // is 10 lx s over the ISO speed; 0.65 L t / N² on the sensor (ISO 2720).
  const facts = { exposureSeconds: 1 / 60, iso: 100, fNumber: 1.8 }
  const level = (76 * 0.65 * facts.exposureSeconds * facts.iso * 0.18) / (10 * facts.fNumber ** 2)
  const judged = judge('remote control', [level, level, level], facts)
  if (judged.kind !== 'result' || !judged.test.measured) throw new Error(judged.kind)
  expect(judged.test.measured.leak / (0.304 / 40)).toBeGreaterThan(0.9)
  expect(judged.test.measured.leak / (0.304 / 40)).toBeLessThan(1.1)
  expect(judge('remote control', [level, level, level]).kind).toBe('exposure not stated')
  for (const missing of ['exposureSeconds', 'iso', 'fNumber'] as const) {
    const stated = { ...facts, [missing]: null }
    const { kind } = judge('remote control', [level, level, level], stated)
    expect(kind, missing).toBe('exposure not stated')
  }
})
