import { existsSync, readFileSync } from 'node:fs'
import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import type { Browser } from 'playwright-core'
import { launchBrowser } from '../browser/browser.ts'
import { dngOf, forgeMosaic } from '../sources/raw/forge-dng.ts'
import { losslessJpeg } from '../sources/raw/lossless-jpeg.ts'
import type { Bench } from './figure.ts'
import { openToResult } from './open-to-result.ts'

const size = { width: 4000, height: 3000 }

/** A raw photo from picking to result; the decoder is fetched within the time, as at the first use. */
export const bench: Bench = async ({ short, url }) => {
  const samples = forgeMosaic(size.width, size.height)
  const folder = await mkdtemp(join(tmpdir(), 'glowbook-bench-'))
  try {
    const figures = []
    for (const [name, bytes] of [
      [
        '12 MP DNG, compressed',
        () =>
          dngOf(samples, { ...size, compressed: losslessJpeg(samples, size.width, size.height) }),
      ],
      ['12 MP DNG, uncompressed', () => dngOf(samples, size)],
    ] as const) {
      if (short && figures.length > 0) break
      const file = join(folder, 'bar.dng')
      await writeFile(file, bytes())
      // A browser for each: the peak is that of its process since the start.
      const browser = await launchBrowser()
      try {
        const peaks: number[] = []
        const timed = await openToResult(browser, url, {
          name,
          file,
          runs: short ? 1 : 3,
          atMostSeconds: 4,
          onResult: async () => {
            peaks.push(await peakMegabytes(browser))
          },
        })
        figures.push(...timed)
        if (peaks.every(Number.isFinite)) {
          figures.push({
            name: `${name}, peak of the page’s process`,
            value: Math.max(...peaks),
            unit: 'MB',
          })
        }
      } finally {
        await browser.close()
      }
    }
    return figures
  } finally {
    await rm(folder, { recursive: true })
  }
}

/**
 * Largest resident memory that any process of a page has had so far, workers and wasm included
 * (VmHWM, proc_pid_status(5)); not a number on systems that do not say.
 */
async function peakMegabytes(browser: Browser): Promise<number> {
  const session = await browser.newBrowserCDPSession()
  const { processInfo } = await session.send('SystemInfo.getProcessInfo')
  await session.detach()
  const peaks = processInfo
    .filter(({ type }) => type === 'renderer')
    .map(({ id }) => `/proc/${id}/status`)
    .filter(existsSync)
    .map((path) => Number(/VmHWM:\s+(\d+) kB/.exec(readFileSync(path, 'utf8'))?.[1]) / 1024)
  return peaks.length > 0 ? Math.max(...peaks) : Number.NaN
}
