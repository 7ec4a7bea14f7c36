import { readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import { mirrored, quarterTurns, withProperty } from '../making/turn-heif.ts'
import { photoPath } from '../measured-data.ts'
import { expect } from './harness.ts'
import { asText, test } from './sources-harness.ts'

/** HEIC photos, which Chromium does not decode by itself. */

const heic = (name: string) =>
  readFileSync(fileURLToPath(new URL(`../data/heic/${name}`, import.meta.url)))

const readWhole = (page: Page, file: Uint8Array) =>
  page.evaluate(async (text) => {
    const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
    const photo = await sources.openPhoto(new Blob([bytes]))
    const { kind, width, height, space, facts, proposal } = photo
    const stored = await photo.readStored({ shape: 'rectangle', x: 0, y: 0, width, height })
    const preview = await (await fetch(photo.pictureUrl)).blob()
    photo.close()
    const codes = Array.from(stored.codes, (code) => Math.round(255 * code))
    return { kind, width, height, space, facts, proposal, codes, preview: preview.size }
  }, asText(file))

describe('HEIC', () => {
  test('a photo is read as its JPEG is, with its facts', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const read = await readWhole(page, heic('glow.heic'))
    const jpeg = await readWhole(page, readFileSync(photoPath('set1-glow-2.jpg')))
    expect(read).toMatchObject({ kind: 'heic', width: 400, height: 300, space: 'srgb' })
    expect(read.facts).toMatchObject({ exposureSeconds: 1 / 240, iso: 100, fNumber: 1.8 })
    expect(read.preview).toBeGreaterThan(500)
    expect(Math.abs(read.proposal!.x - jpeg.proposal!.x)).toBeLessThan(8)
    // Coded twice: the mean over the glow stays within half a code, single pixels do not.
    const { x, y, width, height } = jpeg.proposal!
    const mean = (codes: readonly number[], channel: number) => {
      let [sum, count] = [0, 0]
      for (let row = Math.ceil(y); row < y + height; row++)
        for (let column = Math.ceil(x); column < x + width; column++, count++)
          sum += codes[3 * (row * 400 + column) + channel]!
      return sum / count
    }
    for (const channel of [0, 1])
      expect(Math.abs(mean(read.codes, channel) - mean(jpeg.codes, channel))).toBeLessThan(1)
  })

  test('Display P3 codes come back as they are', async ({ sourcesPage }) => {
    const { space, codes } = await readWhole(await sourcesPage(), heic('display-p3.heic'))
    expect(space).toBe('display-p3')
    // The file holds Y, Cb, Cr in whole codes: R, G, B come back within one (ITU-T T.871).
    const stored = [...codes.slice(0, 3), ...codes.slice(-3)]
    for (const [i, code] of [230, 90, 40, 120, 120, 120].entries())
      expect(Math.abs(stored[i]! - code)).toBeLessThanOrEqual(1)
  })

  test('a photo turned or mirrored by its header lies as it is looked at', async ({
    sourcesPage,
  }) => {
    const page = await sourcesPage()
    const file = heic('display-p3.heic')
    const plain = await readWhole(page, file)
    const at = ({ codes, width }: typeof plain, x: number, y: number) =>
      codes.slice(3 * (x + width * y), 3 * (x + width * y) + 3)
    const [w, h] = [plain.width, plain.height]
    // Where a place of the stored picture lies afterwards: ISO/IEC 23008-12, 6.5.10 and 6.5.12.
    const turned: readonly (readonly [readonly number[], (x: number, y: number) => number[]])[] = [
      [quarterTurns(1), (x, y) => [y, w - 1 - x]],
      [quarterTurns(2), (x, y) => [w - 1 - x, h - 1 - y]],
      [quarterTurns(3), (x, y) => [h - 1 - y, x]],
      [mirrored(1), (x, y) => [w - 1 - x, y]],
      [mirrored(0), (x, y) => [x, h - 1 - y]],
    ]
    for (const [property, placeOf] of turned) {
      const read = await readWhole(page, withProperty(file, property))
      expect([read.width, read.height].sort()).toEqual([w, h].sort())
      for (const [x, y] of [
        [0, 0],
        [w - 1, 0],
        [0, h - 1],
        [w - 1, h - 1],
      ] as const) {
        const [toX, toY] = placeOf(x, y)
        expect(at(read, toX!, toY!), `${property} ${x} ${y}`).toEqual(at(plain, x, y))
      }
    }
  })

  test('a file that ends too early is refused', async ({ sourcesPage }) => {
    const page = await sourcesPage()
    const refusal = await page.evaluate(
      async (text) => {
        const bytes = Uint8Array.from(atob(text), (c) => c.charCodeAt(0))
        return sources.openPhoto(new Blob([bytes])).then(
          () => 'opened',
          (error: { refusal?: { code: string } }) => error.refusal?.code,
        )
      },
      asText(heic('glow.heic').subarray(0, 9000)),
    )
    expect(refusal).toBe('truncated')
  })
})
