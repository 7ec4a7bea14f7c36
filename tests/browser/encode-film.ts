import { readFile } from 'node:fs/promises'
import { fileURLToPath } from 'node:url'
import type { Browser } from 'playwright-core'
import { practiceCode, practiceGlow } from '../../src/sources/live/practice-camera.ts'

/** Without a package of its own on the page: the library as one script. */
const LIBRARY = fileURLToPath(
  new URL('../../node_modules/mediabunny/dist/bundles/mediabunny.min.cjs', import.meta.url),
)

export interface FilmPlan {
  readonly container: 'mp4' | 'webm'
  /** As the library names them. */
  readonly codec: 'avc' | 'vp8' | 'vp9' | 'av1'
  readonly width: number
  readonly height: number
  /** Times of the frames, s; they need not be even. */
  readonly times: readonly number[]
  /** Codes 0..255 of the glow in each frame, with fractions; null where there is none. */
  readonly codes: readonly (readonly [number, number, number] | null)[]
  /** How the picture has to be turned to be seen upright, degrees clockwise. */
  readonly rotation?: 0 | 90 | 180 | 270
  readonly bitrate?: number
  /** Standard deviation of a pixel's noise, codes of 255. */
  readonly noise?: number
}

/** Codes 0..255 that the practice camera stores of a body, at a share of full exposure. */
export function filmCodes(temperatureK: number, exposure = 0.35): [number, number, number] {
  const [r, g, b] = practiceGlow(temperatureK)
  const code = (light: number) => 255 * practiceCode(exposure * (light + 0.0005))
  return [code(r), code(g), code(b)]
}

/** Times of evenly spaced frames, s. */
export const evenTimes = (seconds: number, perSecond: number): number[] =>
  Array.from({ length: Math.round(seconds * perSecond) }, (_, i) => i / perSecond)

/**
 * A film of a glowing bar on black, encoded by the browser's own encoder (WebCodecs) and put into a
 * file: what phones write, with the codec's noise and colour.
 *
 * @param url any page of this machine: encoders need a secure one
 */
export async function encodeFilm(browser: Browser, url: string, plan: FilmPlan): Promise<Buffer> {
  const context = await browser.newContext()
  const page = await context.newPage()
  await page.route(`${url}/encoder`, (route) =>
    route.fulfill({ contentType: 'text/html', body: '<!doctype html><title>encoder</title>' }),
  )
  await page.goto(`${url}/encoder`)
  await page.addScriptTag({ path: LIBRARY })
  const download = page.waitForEvent('download', { timeout: 0 })
  await page.evaluate(encode, plan)
  const film = await readFile(await (await download).path())
  await context.close()
  return film
}

/** Runs in the page, which then saves the file. */
async function encode(plan: FilmPlan): Promise<void> {
  const { Mediabunny } = globalThis as unknown as { Mediabunny: typeof import('mediabunny') }
  const { width, height, times, codes: glow, noise = 2 } = plan
  const target = new Mediabunny.BufferTarget()
  const format =
    plan.container === 'mp4' ? new Mediabunny.Mp4OutputFormat() : new Mediabunny.WebMOutputFormat()
  const output = new Mediabunny.Output({ format, target })
  const canvas = new OffscreenCanvas(width, height)
  const context = canvas.getContext('2d', { alpha: false })!
  const source = new Mediabunny.CanvasSource(canvas, {
    codec: plan.codec,
    bitrate: plan.bitrate ?? 4_000_000,
    keyFrameInterval: 2,
  })
  output.addVideoTrack(source, { rotation: plan.rotation ?? 0 })
  await output.start()
  // Numerical Recipes, 7.1: enough for grain, and the same each time.
  let state = 1
  const uniform = () => {
    state = (Math.imul(1664525, state) + 1013904223) >>> 0
    return (state + 0.5) / 2 ** 32
  }
  const grain = Float32Array.from(
    { length: 200_003 },
    () => noise * Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()),
  )
  const [w, h] = [Math.min(width, 480), Math.min(height, 270)]
  const small = new OffscreenCanvas(w, h)
  const ink = small.getContext('2d', { alpha: false })!
  const image = ink.createImageData(w, h)
  const ground = [8, 8, 8] as const
  let at = 0
  for (const [n, time] of times.entries()) {
    for (let i = 0; i < w * h; i++) {
      const [x, y] = [(i % w) / w, Math.floor(i / w) / h]
      const inside = Math.abs(x - 0.5) < 0.2 && Math.abs(y - 0.5) < 0.15
      const codes = (inside && glow[n]) || ground
      for (let c = 0; c < 3; c++) {
        at = (at + 1) % grain.length
        image.data[4 * i + c] = codes[c]! + grain[at]!
      }
      image.data[4 * i + 3] = 255
    }
    ink.putImageData(image, 0, 0)
    context.imageSmoothingEnabled = false
    context.drawImage(small, 0, 0, width, height)
    const next = times[n + 1] ?? time + (n > 0 ? time - times[n - 1]! : 0.1)
    await source.add(time, next - time)
  }
  await output.finalize()
  const link = document.createElement('a')
  link.href = URL.createObjectURL(new Blob([target.buffer!]))
  link.download = 'film'
  link.click()
}
