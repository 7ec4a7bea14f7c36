import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import { encodeJpeg } from '../making/encode-jpeg.ts'
import { P3_COLORANTS, writeIccProfile } from '../making/write-icc.ts'
import { writePng } from '../making/write-png.ts'
import { writeTiff } from '../making/write-tiff.ts'
import { expect } from './harness.ts'
import { asText, test } from './sources-harness.ts'

const p3 = writeIccProfile('Display P3', P3_COLORANTS)

/** A WebP of one picture chunk in the extended form, with EXIF (RFC 9649, 2.7). */
function webpWithExif(
  simple: readonly number[],
  width: number,
  height: number,
  exif: Uint8Array,
): Uint8Array {
  const chunk = (name: string, data: readonly number[]) => {
    const length = [0, 8, 16, 24].map((bits) => (data.length >> bits) & 255)
    return [...Buffer.from(name), ...length, ...data, ...(data.length % 2 ? [0] : [])]
  }
  const size = (v: number) => [(v - 1) & 255, ((v - 1) >> 8) & 255, ((v - 1) >> 16) & 255]
  const body = [
    ...Buffer.from('WEBP'),
    ...chunk('VP8X', [0x08, 0, 0, 0, ...size(width), ...size(height)]),
    // Chromium may write the extended form already: its picture alone.
    ...simple.slice(Buffer.from(simple).indexOf('VP8 ')),
    ...chunk('EXIF', [...exif]),
  ]
  return Uint8Array.from(chunk('RIFF', body))
}

describe('orientation', () => {
  /** Where EXIF orientation n (Exif 2.32, table 4, tag 274) puts the stored top left corner. */
  const corners: readonly [orientation: number, corner: string][] = [
    [1, 'top left'],
    [2, 'top right'],
    [3, 'bottom right'],
    [4, 'bottom left'],
    [5, 'top left'],
    [6, 'top right'],
    [7, 'bottom right'],
    [8, 'bottom left'],
  ]
  const [width, height] = [96, 64]
  const marked = (x: number, y: number) => (x < 16 && y < 16 ? [220, 90, 20] : [40, 40, 40])
  const exifOf = (orientation: number) =>
    writeTiff({ main: [{ tag: 274, type: 'short', values: [orientation] }] })

  async function cornersOf(page: Page, file: Uint8Array) {
    return page.evaluate(async (text) => {
      const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
      const photo = await sources.openPhoto(new Blob([bytes]))
      const { width, height } = photo
      const bitmap = await createImageBitmap(await (await fetch(photo.pictureUrl)).blob())
      const canvas = new OffscreenCanvas(bitmap.width, bitmap.height)
      const context = canvas.getContext('2d', { willReadFrequently: true })!
      context.drawImage(bitmap, 0, 0)
      const inCrop: string[] = []
      const inPreview: string[] = []
      for (const [name, x, y] of [
        ['top left', 0, 0],
        ['top right', width - 8, 0],
        ['bottom left', 0, height - 8],
        ['bottom right', width - 8, height - 8],
      ] as const) {
        const box = { shape: 'rectangle', x, y, width: 8, height: 8 } as const
        const { codes } = await photo.readStored(box)
        if (codes[0]! > 0.6) inCrop.push(name)
        if (context.getImageData(x + 3, y + 3, 1, 1).data[0]! > 150) inPreview.push(name)
      }
      photo.close()
      const preview = [bitmap.width, bitmap.height]
      return { width, height, preview, inCrop, inPreview, facts: photo.facts }
    }, asText(file))
  }

  test.for(corners)(
    '%i: the marked corner comes to the %s, in crop and preview alike',
    async ([orientation, corner], { sourcesPage }) => {
      const rgb = Uint8Array.from({ length: 3 * width * height }, (_, i) => {
        const pixel = Math.floor(i / 3)
        return marked(pixel % width, Math.floor(pixel / width))[i % 3]!
      })
      const exif = exifOf(orientation)
      const file = encodeJpeg(rgb, width, height, { quality: 95, exif })
      const upright = orientation < 5 ? [width, height] : [height, width]
      expect(await cornersOf(await sourcesPage(), file)).toMatchObject({
        width: upright[0],
        height: upright[1],
        preview: upright,
        inCrop: [corner],
        inPreview: [corner],
      })
    },
  )

  test('in a PNG, whatever the browser makes of it, crop and preview agree', async ({
    sourcesPage,
  }) => {
    const page = await sourcesPage()
    for (const orientation of [3, 6, 8]) {
      const file = writePng(width, height, marked, { exif: exifOf(orientation), iccProfile: p3 })
      const seen = await cornersOf(page, file)
      expect(seen.preview).toEqual([seen.width, seen.height])
      expect(seen.inCrop).toHaveLength(1)
      expect(seen.inPreview).toEqual(seen.inCrop)
    }
  })

  test('in a WebP, which browsers do not turn, the marked corner comes to its place', async ({
    sourcesPage,
  }) => {
    const page = await sourcesPage()
    const stored = await page.evaluate(
      async ([w, h]) => {
        const canvas = new OffscreenCanvas(w, h)
        const context = canvas.getContext('2d')!
        context.fillStyle = 'rgb(40, 40, 40)'
        context.fillRect(0, 0, w, h)
        context.fillStyle = 'rgb(220, 90, 20)'
        context.fillRect(0, 0, 16, 16)
        const file = await canvas.convertToBlob({ type: 'image/webp', quality: 0.95 })
        return [...new Uint8Array(await file.arrayBuffer())]
      },
      [width, height] as const,
    )
    for (const [orientation, corner] of corners.filter(([n]) => n === 3 || n === 6)) {
      const seen = await cornersOf(page, webpWithExif(stored, width, height, exifOf(orientation)))
      expect(seen).toMatchObject({ inCrop: [corner], inPreview: [corner] })
    }
  })

  test('in a TIFF the marked corner comes to its place, and its exposure is known', async ({
    sourcesPage,
  }) => {
    const page = await sourcesPage()
    const pixels = Uint8Array.from({ length: 3 * width * height }, (_, i) => {
      const pixel = Math.floor(i / 3)
      return marked(pixel % width, Math.floor(pixel / width))[i % 3]!
    })
    const field = (tag: number, ...values: number[]) => ({ tag, type: 'short', values }) as const
    for (const [orientation, corner] of corners.filter(([n]) => n === 3 || n === 6)) {
      const file = writeTiff({
        main: [
          field(256, width),
          field(257, height),
          field(258, 8, 8, 8),
          field(259, 1),
          field(262, 2),
          field(274, orientation),
          field(277, 3),
          field(278, height),
        ],
        exif: [
          { tag: 33434, type: 'rational', values: [0.004] },
          { tag: 34855, type: 'short', values: [125] },
        ],
        pixels,
      })
      const seen = await cornersOf(page, file)
      expect(seen).toMatchObject({ inCrop: [corner], inPreview: [corner] })
      expect(seen.facts).toMatchObject({ exposureSeconds: 0.004, iso: 125 })
    }
  })

  test.for(['frames', 'canvas'])(
    'every third pixel is the same one whichever way the picture is turned: %s',
    async (way, { sourcesPage }) => {
      const page =
        way === 'frames'
          ? await sourcesPage()
          : await sourcesPage((context) =>
              context.addInitScript(() => Reflect.deleteProperty(globalThis, 'VideoFrame')),
            )
      const pattern = (x: number, y: number) => [
        (x * 29 + y * 3) & 255,
        (x * 7) & 255,
        (y * 11) & 255,
      ]
      const file = asText(writePng(width, height, pattern))
      const wrong = await page.evaluate(async (text) => {
        const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
        const step = 3
        const found: string[] = []
        for (const orientation of [1, 2, 3, 4, 5, 6, 7, 8] as const) {
          const bitmap = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
          const pixels = new sources.BitmapPixels(bitmap, 'srgb', orientation)
          const [left, top, right, bottom] = [5, 2, pixels.width - 4, pixels.height - 9]
          const box = { left, top, right, bottom }
          const all = new Uint32Array((await pixels.read(box)).buffer)
          const some = new Uint32Array((await pixels.read(box, step)).buffer)
          const [across, down] = [right - left, bottom - top]
          const columns = Math.ceil(across / step)
          const picked = all.filter((_, i) => {
            const [x, y] = [i % across, Math.floor(i / across)]
            return x % step === 0 && y % step === 0
          })
          if (some.length !== columns * Math.ceil(down / step)) found.push(`size, ${orientation}`)
          else if (some.some((pixel, i) => pixel !== picked[i])) found.push(`codes, ${orientation}`)
          pixels.close()
        }
        return found
      }, file)
      expect(wrong).toEqual([])
    },
  )
})
