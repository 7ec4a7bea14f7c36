import type { Page } from 'playwright-core'
import { launchBrowser, phone, standing } from '../browser/browser.ts'
import { type Bench, type Figure, heapGrowth, median } from './figure.ts'
import { type PageCounts, pageCounts } from './page-counts.ts'

/** Main thread slowed down as on a mid-range phone. */
const SLOWDOWN = 4
const SAMPLES = 24

/** Two hours of the practice bench, read live: what the page keeps, and whether it still looks as often. */
export const bench: Bench = async ({ short, url }) => {
  const minutes = short ? 0.75 : 120
  const browser = await launchBrowser()
  try {
    const page = await (await browser.newContext(phone)).newPage()
    await page.addInitScript(countLooks)
    await page.goto(`${url}/reading/live`)
    await standing(page)
    const session = await page.context().newCDPSession(page)
    await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWDOWN })
    await page.getByRole('button', { name: /Practice bench/ }).click()
    const figure = page.locator('.live_live-readout .plus-minus')
    await figure.waitFor({ timeout: 60_000 })
    const counts: PageCounts[] = []
    const rates: number[] = []
    let before = await looksOf(page)
    for (let n = 0; n < SAMPLES; n++) {
      await page.waitForTimeout((minutes * 60_000) / SAMPLES)
      if (!(await figure.isVisible()))
        throw new Error('The practice bench shows no figure any more.')
      const now = await looksOf(page)
      rates.push((60_000 * (now.answered - before.answered)) / (now.atMs - before.atMs))
      before = now
      counts.push(await pageCounts(session))
    }
    const { asked, answered } = await looksOf(page)
    const name = `practice bench, ${minutes} minutes at ${SLOWDOWN}x`
    return [
      heapGrowth(name, counts),
      grown(`${name}: nodes, last sample over the first`, counts, ({ nodes }) => nodes),
      grown(`${name}: listeners, last sample over the first`, counts, ({ listeners }) => listeners),
      // One may be under way.
      {
        name: `${name}: looks without an answer`,
        value: asked - answered,
        unit: '',
        target: { atMost: 2 },
      },
      { name: `${name}: looks a minute`, value: median(rates), unit: '', timed: true },
      {
        name: `${name}: looks a minute, last third over the first`,
        value: median(rates.slice(-SAMPLES / 3)) / median(rates.slice(0, SAMPLES / 3)),
        unit: '',
        timed: true,
        target: { atLeast: 0.95 },
      },
    ]
  } finally {
    await browser.close()
  }
}

function grown(
  name: string,
  counts: readonly PageCounts[],
  of: (counts: PageCounts) => number,
): Figure {
  const value = of(counts.at(-1)!) - of(counts[0]!)
  return { name, value, unit: '', timed: true, target: { atMost: 10 } }
}

interface Looks {
  readonly asked: number
  readonly answered: number
  readonly atMs: number
}

const looksOf = (page: Page): Promise<Looks> =>
  page.evaluate(() => {
    const { looks } = globalThis as unknown as { looks: { asked: number; answered: number } }
    return { ...looks, atMs: performance.now() }
  })

/** Runs in the page before its scripts: counts what goes to workers, and what comes back. */
function countLooks(): void {
  const looks = { asked: 0, answered: 0 }
  Object.assign(globalThis, { looks })
  const Before = globalThis.Worker
  globalThis.Worker = class extends Before {
    constructor(...args: ConstructorParameters<typeof Worker>) {
      super(...args)
      this.addEventListener('message', () => looks.answered++)
    }
    override postMessage(...args: unknown[]): void {
      looks.asked++
      super.postMessage(...(args as Parameters<Worker['postMessage']>))
    }
  }
}
