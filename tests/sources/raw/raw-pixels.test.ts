import { describe, expect, test } from 'vitest'
import { CLIPPED, FLOOR, FLOOR_GREEN } from '../../../src/light/image.ts'
import type { Orientation } from '../../../src/sources/files/exif-orientation.ts'
import { type RawLayout, RawPixels } from '../../../src/sources/raw/raw-pixels.ts'
import { expectClose } from '../../close-to.ts'

const bayer = (width: number, height: number, more: Partial<RawLayout> = {}): RawLayout => ({
  rawWidth: width,
  rawHeight: height,
  active: { left: 0, top: 0, right: width, bottom: height },
  layout: 'bayer',
  pattern: [0, 1, 1, 2],
  black: [100, 100, 100, 100],
  white: [1100, 1100, 1100, 1100],
  orientation: 1,
  ...more,
})
const whole = (pixels: RawPixels) => ({
  left: 0,
  top: 0,
  right: pixels.width,
  bottom: pixels.height,
})
const everything = Number.POSITIVE_INFINITY

describe('pixels of a raw photo', () => {
  test('a 2x2 cell is one pixel: levels over black, greens averaged, negatives kept', async () => {
    const samples = Uint16Array.of(600, 300, 110, 120, 320, 90, 140, 95)
    const pixels = new RawPixels(samples, bayer(4, 2))
    const { light } = await pixels.crop(whole(pixels), everything)
    expect([light.width, light.height, light.channels]).toEqual([2, 1, 'camera'])
    const expected = [0.5, (0.2 + 0.22) / 2, -0.01, 0.01, (0.02 + 0.04) / 2, -0.005]
    expected.forEach((v, i) => {
      expect(Math.abs(light.rgb[i]! - v)).toBeLessThan(1e-7)
    })
  })

  test('every order of the pattern gives the same channels', async () => {
    const levels = [700, 400, 200]
    for (const pattern of [
      [0, 1, 1, 2],
      [1, 0, 2, 1],
      [1, 2, 0, 1],
      [2, 1, 1, 0],
    ] as const) {
      const samples = Uint16Array.from(pattern, (channel) => levels[channel]!)
      const pixels = new RawPixels(samples, bayer(2, 2, { pattern }))
      const { light } = await pixels.crop(whole(pixels), everything)
      ;[0.6, 0.3, 0.1].forEach((v, c) => {
        expectClose(light.rgb[c]!, v, 1e-6)
      })
    }
  })

  test('black levels belong to the places of the pattern, which starts at the lit part', async () => {
    const samples = new Uint16Array(7 * 6).fill(1000)
    const active = { left: 3, top: 1, right: 7, bottom: 5 }
    const layout = bayer(7, 6, { active, black: [100, 200, 300, 400] })
    samples.set([600], 1 * 7 + 3)
    const pixels = new RawPixels(samples, layout)
    expect([pixels.width, pixels.height]).toEqual([2, 2])
    const { light } = await pixels.crop(whole(pixels), everything)
    expectClose(light.rgb[0]!, 500 / 1000, 1e-6)
    expectClose(light.rgb[1]!, (800 / 900 + 700 / 800) / 2, 1e-6)
    expectClose(light.rgb[2]!, 600 / 700, 1e-6)
  })

  test('one full sample clips its pixel; a sample at 0 is at the floor', async () => {
    const samples = Uint16Array.of(600, 1095, 110, 0, 320, 90, 140, 95)
    const pixels = new RawPixels(samples, bayer(4, 2))
    const { light } = await pixels.crop(whole(pixels), everything)
    expect([...light.flags]).toEqual([CLIPPED, FLOOR | FLOOR_GREEN])
  })

  test('samples piled up below the white level are where the sensor is full', async () => {
    const width = 40
    const samples = Uint16Array.from({ length: width * width }, (_, i) => {
      const red = i % 2 === 0 && Math.floor(i / width) % 2 === 0
      return red && i < 800 ? 900 : 300 + (i % 50)
    })
    const pixels = new RawPixels(samples, bayer(width, width))
    const { light } = await pixels.crop(whole(pixels), everything)
    expect(light.flags.filter((f) => f === CLIPPED).length).toBe(200)
  })

  test('three samples a pixel are taken as they are', async () => {
    const layout = bayer(2, 1, { layout: 'linear', black: [0, 0, 0], white: [1000, 1000, 1000] })
    const pixels = new RawPixels(Uint16Array.of(100, 200, 300, 400, 500, 600), layout)
    const { light } = await pixels.crop(whole(pixels), everything)
    ;[0.1, 0.2, 0.3, 0.4, 0.5, 0.6].forEach((v, i) => {
      expectClose(light.rgb[i]!, v, 1e-6)
    })
  })

  test('turned as EXIF says, the first stored cell comes to its corner', async () => {
    const samples = new Uint16Array(8 * 4).fill(150)
    samples[0] = 1000
    for (let orientation = 1; orientation <= 8; orientation++) {
      const layout = bayer(8, 4, { orientation: orientation as Orientation })
      const pixels = new RawPixels(samples, layout)
      const { light } = await pixels.crop(whole(pixels), everything)
      const at = light.rgb.findIndex((v) => v > 0.5) / 3
      const right = [2, 3, 6, 7].includes(orientation)
      const bottom = [3, 4, 7, 8].includes(orientation)
      expect([light.width, light.height]).toEqual(orientation < 5 ? [4, 2] : [2, 4])
      expect(at).toBe((bottom ? light.height - 1 : 0) * light.width + (right ? light.width - 1 : 0))
    }
  })

  test('a crop is the same part of the whole, and steps when it would be too large', async () => {
    const samples = Uint16Array.from({ length: 40 * 40 }, (_, i) => 101 + (i % 900))
    const pixels = new RawPixels(samples, bayer(40, 40))
    const all = (await pixels.crop(whole(pixels), everything)).light
    const part = await pixels.crop({ left: 5, top: 3, right: 9, bottom: 6 }, everything)
    const stepped = await pixels.crop(whole(pixels), 100)
    const pixel = (light: typeof all, x: number, y: number) => [
      ...light.rgb.subarray(3 * (y * light.width + x)).subarray(0, 3),
    ]
    expect(pixel(part.light, 2, 1)).toEqual(pixel(all, 7, 4))
    expect(stepped.step).toBe(2)
    expect(pixel(stepped.light, 3, 4)).toEqual(pixel(all, 6, 8))
  })
})
