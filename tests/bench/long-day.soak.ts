import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, chromium } from 'playwright-core'
import { browserFlags, ensureBrowser } from '../../scripts/find-browser.mjs'
import { launchBrowser, phone, standing } from '../browser/browser.ts'
import { type Bench, type Figure, heapGrowth, median } from './figure.ts'
import { fillLog, openLog } from './log-of-many.ts'
import { type PageCounts, pageCounts } from './page-counts.ts'
import { photosInARow } from './photos-in-a-row.ts'

/** Main thread slowed down as on a mid-range phone. */
const SLOWDOWN = 4
const SAMPLES = 12

/** A long day of work: what the page keeps, and whether the log stays as fast as it was. */
export const bench: Bench = async ({ short, url }) => {
  const browser = await launchBrowser()
  try {
    return [
      heapGrowth('practice bench', await practiceBench(browser, url, short ? 0.75 : 120)),
      heapGrowth('photos in a row', await photosInARow(browser, url, short ? 15 : 60)),
      ...(await growingLog(url, short ? [500, 2000] : [2000, 20_000, 100_000])),
    ]
  } finally {
    await browser.close()
  }
}

/** The simulated glow, read live at {@link SLOWDOWN}. */
async function practiceBench(
  browser: Browser,
  url: string,
  minutes: number,
): Promise<PageCounts[]> {
  const context = await browser.newContext(phone)
  const page = await context.newPage()
  await page.goto(`${url}/reading/live`)
  await standing(page)
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWDOWN })
  await page.getByRole('button', { name: /Practice bench/ }).click()
  const figure = page.locator('.live_live-readout .plus-minus')
  await figure.waitFor({ timeout: 60_000 })
  const counts: PageCounts[] = []
  for (let n = 0; n < SAMPLES; n++) {
    await page.waitForTimeout((minutes * 60_000) / SAMPLES)
    if (!(await figure.isVisible())) throw new Error('The practice bench shows no figure any more.')
    counts.push(await pageCounts(session))
  }
  await context.close()
  return counts
}

/** One log for each size: opened again and again, from another screen. */
async function growingLog(url: string, sizes: readonly number[]): Promise<Figure[]> {
  const figures: Figure[] = []
  for (const size of sizes) {
    const folder = await mkdtemp(join(tmpdir(), 'glowbook-soak-'))
    const context = await chromium.launchPersistentContext(join(folder, 'profile'), {
      ...phone,
      baseURL: url,
      executablePath: ensureBrowser(),
      args: browserFlags,
    })
    context.setDefaultTimeout(300_000)
    try {
      await fillLog(context, folder, size)
      const page = await context.newPage()
      const session = await context.newCDPSession(page)
      await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWDOWN })
      const opened: number[] = []
      const counts: PageCounts[] = []
      for (let n = 0; n < 3; n++) opened.push((await openLog(page)).tapped)
      // To and fro within one page: what it keeps of each visit.
      for (let n = 0; n < SAMPLES; n++) {
        await page.getByRole('link', { name: 'Safety', exact: true }).click()
        await standing(page)
        await page.getByRole('link', { name: 'Log', exact: true }).click()
        await page.locator('.log_log-row').first().waitFor()
        counts.push(await pageCounts(session))
      }
      figures.push(
        {
          name: `log of ${size} opened from another screen, ${SLOWDOWN}x`,
          value: median(opened),
          unit: 'ms',
          timed: true,
          target: { atMost: 500 },
        },
        heapGrowth(`log of ${size}`, counts),
      )
    } finally {
      await context.close()
      await rm(folder, { recursive: true, force: true })
    }
  }
  return figures
}
