import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import { encodeTransfer, linearSrgbFromP3, P3_FROM_SRGB } from '../../src/colour/rgb-spaces.ts'
import { encodeJpeg } from '../making/encode-jpeg.ts'
import { P3_COLORANTS, writeIccProfile } from '../making/write-icc.ts'
import { writePng } from '../making/write-png.ts'
import { writeTiff } from '../making/write-tiff.ts'
import { jpeg } from '../sources/files/containers.ts'
import { expect } from './harness.ts'
import { asText, test } from './sources-harness.ts'

const p3 = writeIccProfile('Display P3', P3_COLORANTS)

/** Every code in red against every code in green; blue runs along. */
const SIDE = 256
const allCodes = (x: number, y: number) => [x, y, (7 * x + 13 * y) & 255]

describe('a photo comes back code by code', () => {
  const files = [
    ['sRGB, nothing stated', 'srgb', {}],
    ['Display P3 by profile', 'display-p3', { iccProfile: p3 }],
    ['Display P3 by code points', 'display-p3', { cicp: [12, 13] as const }],
  ] as const

  const worstOf = (page: Page, file: Uint8Array) =>
    page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      const photo = await sources.openPhoto(new Blob([bytes]))
      const { width, height } = photo
      const stored = await photo.readStored({ shape: 'rectangle', x: 0, y: 0, width, height })
      photo.close()
      let worst = 0
      for (let y = 0, i = 0; y < height; y++) {
        for (let x = 0; x < width; x++) {
          for (const code of [x, y, (7 * x + 13 * y) & 255]) {
            worst = Math.max(worst, Math.abs(stored.codes[i++]! * 255 - code))
          }
        }
      }
      return { space: stored.space, width, height, worst }
    }, asText(file))

  test.for(files)('%s', async ([, space, options], { sourcesPage }) => {
    const read = await worstOf(await sourcesPage(), writePng(SIDE, SIDE, allCodes, options))
    expect(read).toMatchObject({ space, width: SIDE, height: SIDE })
    // What Float32 leaves of code / 255, times 255.
    expect(read.worst).toBeLessThan(1e-4)
  })

  test('also where the browser has no video frames, by way of a canvas', async ({
    sourcesPage,
  }) => {
    let changed = 0
    const page = await sourcesPage((context) =>
      context.route('**/photo.worker-*.js', async (route) => {
        const response = await route.fetch()
        const body = `delete globalThis.VideoFrame;\n${await response.text()}`
        await route.fulfill({ response, body })
        changed++
      }),
    )
    for (const [, space, options] of files) {
      const read = await worstOf(page, writePng(SIDE, SIDE, allCodes, options))
      expect(read.space).toBe(space)
      expect(read.worst).toBeLessThan(1e-4)
    }
    expect(changed).toBeGreaterThan(0)
  })

  test('a crop is the same part of the whole, to the pixel', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const file = asText(writePng(SIDE, SIDE, allCodes))
    const crop = await page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      const photo = await sources.openPhoto(new Blob([bytes]))
      const stored = await photo.readStored({
        shape: 'rectangle',
        x: 101,
        y: 57,
        width: 3,
        height: 2,
      })
      photo.close()
      return [stored.width, stored.height, ...Array.from(stored.codes, (c) => Math.round(c * 255))]
    }, file)
    const expected = [57, 58].flatMap((y) => [101, 102, 103].flatMap((x) => allCodes(x, y)))
    expect(crop).toEqual([3, 2, ...expected])
  })

  test('one scene in a Display P3 and in an sRGB file gives one linear light', async ({
    sourcesPage,
  }) => {
    const page = await sourcesPage()
    // Linear P3, just inside of sRGB: an orange and a grey.
    const scene = [
      [0.6, 0.16, 0.06],
      [0.3, 0.3, 0.3],
    ] as const
    const codesOf = (rgb: readonly number[]) =>
      rgb.map((v) => Math.round(255 * encodeTransfer(Math.max(v, 0))))
    const paint = (colours: readonly (readonly number[])[]) => (x: number) =>
      codesOf(colours[x < 32 ? 0 : 1]!)
    const wide = writePng(64, 32, paint(scene), { iccProfile: p3 })
    const narrow = writePng(64, 32, paint(scene.map(([r, g, b]) => linearSrgbFromP3([r, g, b]))))
    const [first, second] = await page.evaluate(
      async (files) =>
        Promise.all(
          files.map(async (text) => {
            const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
            const photo = await sources.openPhoto(new Blob([bytes]))
            const light = await photo.readLight({
              shape: 'rectangle',
              x: 0,
              y: 0,
              width: 64,
              height: 1,
            })
            photo.close()
            return [...light.rgb.slice(0, 3), ...light.rgb.slice(3 * 63)]
          }),
        ),
      [asText(wide), asText(narrow)],
    )
    // Half a code of rounding: d(linear) = 2.4 / 1.055 * linear^(1.4/2.4) * 0.5/255 on the power part.
    const half = (linear: number) => ((2.4 / 1.055) * linear ** (1.4 / 2.4) * 0.5) / 255
    scene.forEach((colour, k) => {
      const own = linearSrgbFromP3(colour)
      colour.forEach((value, c) => {
        const i = 3 * k + c
        const carried = P3_FROM_SRGB[c]!.reduce((sum, m, j) => sum + Math.abs(m) * half(own[j]!), 0)
        expect(Math.abs(first![i]! - value), `P3 file, value ${i}`).toBeLessThan(half(value))
        expect(Math.abs(second![i]! - value), `sRGB file, value ${i}`).toBeLessThan(carried)
      })
    })
  })
})

describe('bad files', () => {
  const rgb = Uint8Array.from({ length: 64 * 48 * 3 }, (_, i) => (i * 37) & 255)
  const whole = encodeJpeg(rgb, 64, 48, { quality: 90 })
  test.for([
    ['text', 'not a photo', new TextEncoder().encode('no picture')],
    ['nothing', 'empty file', new Uint8Array()],
    ['a cut-off JPEG', 'truncated', whole.subarray(0, whole.length / 2)],
    ['inks', 'ink colours', jpeg(64, 48, { sampling: [0x11, 0x11, 0x11, 0x11] })],
    ['a JPEG without tables', 'damaged', jpeg(64, 48)],
    ['108 megapixels', 'too many pixels', jpeg(12000, 9000)],
  ] as const)('%s is refused as %s', async ([, code, bytes], { sourcesPage }) => {
    const page = await sourcesPage()
    const refused = await page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      return sources.openPhoto(new Blob([bytes])).then(
        () => 'opened',
        (error) => [error.name, error.refusal?.code],
      )
    }, asText(bytes))
    expect(refused).toEqual(['PhotoRefused', code])
  })
})

describe('an open photo', () => {
  const glow = (x: number, y: number) =>
    Math.hypot(x - 200, y - 150) < 60 ? [200, 70, 12] : [3, 2, 2]

  test('finds the glow, measures it, and drops what was superseded', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const result = await page.evaluate(
      async (text) => {
        const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
        const shares: number[] = []
        const photo = await sources.openPhoto(new Blob([bytes]), {
          onProgress: (share) => shares.push(share),
        })
        const region = photo.proposal!
        const calls = [0, 1, 2, 3, 4].map((dx) =>
          photo.measure({ ...region, x: region.x + dx }).then(
            (measured) => measured.region.x - region.x,
            (error) => error.name as string,
          ),
        )
        const outcome = await Promise.all(calls)
        const waiting = photo.measure(region).catch((error) => error.name)
        photo.close()
        const late = photo.measure(region).catch((error) => error.name)
        return { region, outcome, shares, after: [await waiting, await late] }
      },
      asText(writePng(400, 300, glow)),
    )
    expect(result.region.x).toBeGreaterThan(140)
    expect(result.region.x + result.region.width).toBeLessThan(260)
    expect(result.outcome.slice(0, 4)).toEqual(new Array(4).fill('AbortError'))
    expect(result.outcome[4]).toBe(4)
    expect(result.after).toEqual(['AbortError', 'AbortError'])
    expect(result.shares).toEqual([...result.shares].sort((a, b) => a - b))
  })

  test('opening stops at once when it is cancelled', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const outcome = await page.evaluate(
      async (text) => {
        const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
        const abort = new AbortController()
        const opening = sources.openPhoto(new Blob([bytes]), { signal: abort.signal })
        abort.abort()
        return opening.then(
          () => 'opened',
          (error) => error.name,
        )
      },
      asText(writePng(400, 300, glow)),
    )
    expect(outcome).toBe('AbortError')
  })

  test('marks a single clipped pixel out of millions', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const rgb = new Uint8Array(3 * 3300 * 1200).fill(60)
    // In a block of its own, away from every sampled row and column.
    const [px, py] = [1801, 700]
    rgb.set([255, 60, 60], 3 * (py * 3300 + px))
    const file = writePng(3300, 1200, (x, y) => [
      ...rgb.subarray(3 * (y * 3300 + x)).subarray(0, 3),
    ])
    const marked = await page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      const photo = await sources.openPhoto(new Blob([bytes]))
      const bitmap = await createImageBitmap(await (await fetch((await photo.marks())!)).blob())
      photo.close()
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height)
      const context = canvas.getContext('2d', { willReadFrequently: true })!
      context.drawImage(bitmap, 0, 0)
      const { data } = context.getImageData(0, 0, bitmap.width, bitmap.height)
      const places: number[][] = []
      for (let i = 3; i < data.length; i += 4) {
        const at = (i - 3) / 4
        if (data[i]! > 0) places.push([at % bitmap.width, Math.floor(at / bitmap.width)])
      }
      return { width: bitmap.width, height: bitmap.height, places }
    }, asText(file))
    expect(marked.width).toBe(1100)
    expect(marked.places).toEqual([[Math.floor(px / 3), Math.floor(py / 3)]])
  })

  test('gives a small picture of a region without any of the file’s metadata', async ({
    sourcesPage,
  }) => {
    const page = await sourcesPage()
    const exif = writeTiff({
      main: [{ tag: 272, type: 'ascii', values: 'Secret camera' }],
      gps: [{ tag: 2, type: 'rational', values: [47, 33, 12] }],
    })
    const rgb = new Uint8Array(3 * 640 * 480).fill(90)
    const file = encodeJpeg(rgb, 640, 480, { quality: 90, exif, iccProfile: p3 })
    const picture = await page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      const photo = await sources.openPhoto(new Blob([bytes]))
      const region = { shape: 'ellipse', x: 100, y: 100, width: 400, height: 200 } as const
      const { blob, width, height } = await photo.regionPicture(region)
      const facts = photo.facts
      photo.close()
      const codes = new Uint8Array(await blob.arrayBuffer())
      return { type: blob.type, width, height, facts, text: String.fromCharCode(...codes) }
    }, asText(file))
    expect(picture).toMatchObject({ type: 'image/jpeg', width: 320, height: 213 })
    expect(picture.facts.model).toBe('Secret camera')
    expect(picture.text).not.toMatch(/Exif|Secret/)
  })
})
