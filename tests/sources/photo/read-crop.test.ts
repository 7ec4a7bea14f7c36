import { describe, expect, test } from 'vitest'
import { decodeTransfer } from '../../../src/colour/rgb-spaces.ts'
import { clippingLevels } from '../../../src/light/clipping-level.ts'
import { measurePhoto } from '../../../src/light/measure-photo.ts'
import { photoLight } from '../../../src/sources/photo/light-source.ts'
import { measureInSource } from '../../../src/sources/photo/measure-crop.ts'
import { readCrop, stepFor } from '../../../src/sources/photo/pixel-source.ts'
import { expectClose } from '../../close-to.ts'
import { madeSource } from './made-source.ts'

const codes = (x: number, y: number) => [(x * 3 + y) & 255, (x + 5 * y) & 255, (x * y) & 255]

describe('a crop of a picture', () => {
  test('holds every code of its box', async () => {
    const box = { left: 13, top: 5, right: 413, bottom: 305 }
    const crop = await readCrop(madeSource(500, 400, codes), box, 1)
    expect(crop).toMatchObject({ left: 13, top: 5, step: 1, image: { width: 400, height: 300 } })
    for (let y = 0, i = 0; y < 300; y++) {
      for (let x = 0; x < 400; x++) {
        for (const code of codes(x + 13, y + 5)) {
          if (Math.abs(crop.image.codes[i++]! * 255 - code) > 1e-4) expect.fail(`at ${x}, ${y}`)
        }
      }
    }
  })

  test('steps over rows and columns when it would be too large, and mixes no codes', async () => {
    const box = { left: 0, top: 0, right: 1000, bottom: 801 }
    const crop = await readCrop(madeSource(1000, 801, codes), box, stepFor(box, 100_000))
    expect(crop).toMatchObject({ step: 3, image: { width: 334, height: 267 } })
    const at = (x: number, y: number) =>
      [0, 1, 2].map((c) => Math.round(crop.image.codes[3 * (334 * y + x) + c]! * 255))
    expect(at(0, 0)).toEqual(codes(0, 0))
    expect(at(100, 200)).toEqual(codes(300, 600))
    expect(at(333, 266)).toEqual(codes(999, 798))
  })
})

describe('measuring in a crop', () => {
  let seed = 1
  const noise = () => {
    seed = (seed * 1103515245 + 12345) & 0x7fffffff
    return (seed / 0x7fffffff - 0.5) * 6
  }
  const [width, height] = [900, 600]
  const picture = Array.from({ length: width * height }, (_, i) => {
    const [x, y] = [i % width, Math.floor(i / width)]
    const glow = Math.hypot(x - 450, y - 300) < 90
    return (glow ? [190, 70, 20] : [12, 9, 8]).map((v) => Math.max(0, Math.round(v + noise())))
  })
  const source = madeSource(width, height, (x, y) => picture[y * width + x]!)

  test('gives what measuring in the whole picture gives', async () => {
    const region = { shape: 'ellipse', x: 390, y: 240, width: 120, height: 120 } as const
    const whole = await readCrop(source, { left: 0, top: 0, right: width, bottom: height }, 1)
    const levels = clippingLevels(whole.image)
    const expected = measurePhoto(whole.image, region, { chromaSubsampled: false, levels })
    const found = await measureInSource(photoLight(source, levels), region, {
      chromaSubsampled: false,
    })
    expect(found.region).toEqual(region)
    expect(found.patch.pixels).toBe(expected.patch.pixels)
    expect(found.storedLevels).toEqual(expected.storedLevels)
    found.patch.colour.mean.forEach((v, c) => {
      expectClose(v, expected.patch.colour.mean[c]!, 1e-6)
    })
    // The ring is cut at another place, so its noise differs: within one code of the dark.
    found.glow.mean.forEach((v, c) => {
      expectClose(v, expected.glow.mean[c]!, 0.01)
    })
    expect(found.unevenness.hottest?.region.x).toBeGreaterThanOrEqual(region.x)
    expect(found.unevenness.hottest?.region.y).toBeGreaterThanOrEqual(region.y)
  })

  test('looks further away for the background when the close ring is all glow', async () => {
    const region = { shape: 'rectangle', x: 446, y: 296, width: 8, height: 8 } as const
    const levels = { codes: [1, 1, 1], plateau: [false, false, false] } as const
    const within = (radius: number) =>
      madeSource(width, height, (x, y) =>
        Math.hypot(x - 450, y - 300) < radius ? [190, 70, 20] : [12, 9, 8],
      )
    const options = { chromaSubsampled: false }
    const found = await measureInSource(photoLight(within(150), levels), region, options)
    expectClose(found.background?.colour.mean[0] ?? 0, decodeTransfer(12 / 255), 1e-5)
    // Nothing but glow as far as it looks: that is said, and nothing is invented.
    const filled = await measureInSource(photoLight(within(1000), levels), region, options)
    expect(filled.background).toBeNull()
    expect(filled.findings.map(({ code }) => code)).toContain('background not seen')
  })
})
