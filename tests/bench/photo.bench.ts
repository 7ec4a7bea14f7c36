import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { launchBrowser } from '../browser/browser.ts'
import { type Bench, median } from './figure.ts'
import { openToResult } from './open-to-result.ts'

/** 12 MP as phones take them; the short form only shows that the way is open. */
const sizes = { full: { width: 4000, height: 3000 }, short: { width: 1000, height: 750 } }

export const bench: Bench = async ({ short, url }) => {
  const browser = await launchBrowser()
  const folder = await mkdtemp(join(tmpdir(), 'glowbook-bench-'))
  try {
    const file = join(folder, 'bar.jpg')
    const runs = short ? 1 : 5
    const size = short ? sizes.short : sizes.full
    const name = `${(size.width * size.height) / 1e6} MP JPEG`
    await writeFile(file, await makePhoto(browser, size))
    const mapMs: number[] = []
    const figures = await openToResult(browser, url, {
      name,
      file,
      runs,
      atMostSeconds: 2.5,
      onResult: async (page) => {
        mapMs.push(await timeMap(page))
      },
    })
    // The runs at full speed come first.
    const seconds = median(mapMs.slice(0, runs)) / 1000
    return [
      ...figures,
      {
        name: `${name}, result to map, 1x`,
        value: seconds,
        unit: 's',
        timed: true,
        target: { atMost: 0.8 },
      },
    ]
  } finally {
    await browser.close()
    await rm(folder, { recursive: true })
  }
}

/** A glowing bar in a dark shop, with noise that gives the JPEG the weight of a real one: 3 to 4 MB. */
async function makePhoto(browser: Browser, size: typeof sizes.full): Promise<Buffer> {
  const page = await browser.newPage()
  const base64 = await page.evaluate(drawPhoto, size)
  await page.close()
  return Buffer.from(base64, 'base64')
}

async function drawPhoto({ width, height }: { width: number; height: number }): Promise<string> {
  const canvas = new OffscreenCanvas(width, height)
  const context = canvas.getContext('2d')
  if (context === null) throw new Error('No canvas.')
  const pixels = context.createImageData(width, height)
  let state = 1
  const noise = () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0
    return state / 2 ** 32 - 0.5
  }
  for (let y = 0, i = 0; y < height; y++) {
    for (let x = 0; x < width; x++, i += 4) {
      const across = Math.abs(y - height / 2) / (height * 0.06)
      const along = Math.abs(x - width / 2) / (width * 0.3)
      const glow = Math.max(0, 1 - across ** 4) * Math.max(0, 1 - along ** 4)
      pixels.data[i] = 18 + 205 * glow + 22 * noise()
      pixels.data[i + 1] = 17 + 70 * glow + 22 * noise()
      pixels.data[i + 2] = 16 + 4 * glow + 22 * noise()
      pixels.data[i + 3] = 255
    }
  }
  context.putImageData(pixels, 0, 0)
  const blob = await canvas.convertToBlob({ type: 'image/jpeg', quality: 0.92 })
  const bytes = new Uint8Array(await blob.arrayBuffer())
  let text = ''
  for (let at = 0; at < bytes.length; at += 32768)
    text += String.fromCharCode(...bytes.subarray(at, at + 32768))
  return btoa(text)
}

/**
 * From opening the map of a reading to its picture, ms. The page itself looks, frame by frame: who asks
 * from outside does so at intervals that grow to half a second.
 */
async function timeMap(page: Page): Promise<number> {
  const shown = page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const began = () => {
          const start = performance.now()
          const look = () => {
            if (document.querySelector('[aria-roledescription="map of the heat"] image + image'))
              resolve(performance.now() - start)
            else requestAnimationFrame(look)
          }
          look()
        }
        document.addEventListener('click', began, { once: true, capture: true })
      }),
  )
  await page.locator('summary', { hasText: 'Map:' }).click()
  return shown
}
