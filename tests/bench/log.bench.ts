import type { BrowserContext, CDPSession, Page } from 'playwright-core'
import type { Log } from '../browser/log-page/main.ts'
import { logSite } from '../browser/log-site.ts'
import { type Bench, type Figure, median } from './figure.ts'
import { onDisk } from './on-disk.ts'

/** Main thread slowed down as on a mid-range phone. */
const SLOWDOWN = 4

declare global {
  /** The page's log, kept between steps of the bench. */
  var log: Log
}

/**
 * The log by itself, on disk, with as many readings as nobody will ever have. The screens on top of
 * it are measured by the browser tests of the app.
 */
export const bench: Bench = async ({ short }) => {
  const count = short ? 2000 : 100_000
  const { url, end } = await logSite()
  try {
    return await onDisk(url, async (context) => {
      const importMs = await fill(context, count)
      return [
        { name: `bringing in ${count} readings from a file`, ...seconds(importMs) },
        ...(await openAndFind(context)),
        ...(await scroll(context)),
        ...(await take(context, count)),
        ...(await save(context)),
      ]
    })
  } finally {
    await end()
  }
}

const ms = (value: number) => ({ value, unit: 'ms', timed: true })
const seconds = (value: number) => ({ value: value / 1000, unit: 's', timed: true })

/** A fresh page, slowed down. */
async function slowPage(
  context: BrowserContext,
  rate: number,
): Promise<{ page: Page; session: CDPSession }> {
  const page = await context.newPage()
  await page.goto('/')
  await page.waitForFunction(() => 'logPage' in globalThis)
  const session = await context.newCDPSession(page)
  await session.send('Emulation.setCPUThrottlingRate', { rate })
  return { page, session }
}

async function fill(context: BrowserContext, count: number): Promise<number> {
  const { page } = await slowPage(context, 1)
  const took = await page.evaluate(async (all) => {
    const log = await logPage.openLog()
    let spent = 0
    for (let from = 0; from < all; from += 20_000) {
      const file = logPage.madeUpReadings(from, Math.min(from + 20_000, all))
      const began = performance.now()
      const preview = await log.readFile(file)
      await preview.merge({ conflicts: 'mine' })
      spent += performance.now() - began
    }
    return spent
  }, count)
  await page.close()
  return took
}

async function openAndFind(context: BrowserContext): Promise<Figure[]> {
  const runs: { first: number; cold: number; warm: number[] }[] = []
  for (let run = 0; run < 3; run++) {
    const { page } = await slowPage(context, SLOWDOWN)
    runs.push(
      await page.evaluate(async () => {
        const began = performance.now()
        const log = await logPage.openLog()
        const newest = await log.newest(30)
        await log.count()
        const first = performance.now() - began
        if (newest.length !== 30) throw new Error(`${newest.length} readings`)
        const asked = performance.now()
        const found = await log.find({ text: 'orange' })
        found.summaries(0, 30)
        const cold = performance.now() - asked
        const warm: number[] = []
        for (const text of ['e', 'orange', 'kiln late', 'nothing like it', 'ortl', '1']) {
          const from = performance.now()
          const view = await log.find({ text })
          view.summaries(0, 30)
          warm.push(performance.now() - from)
        }
        return { first, cold, warm }
      }),
    )
    await page.close()
  }
  return [
    {
      name: `open and read the newest 30, ${SLOWDOWN}x`,
      ...ms(median(runs.map((run) => run.first))),
      target: { atMost: 500 },
    },
    {
      name: `first filter by text, index still to be loaded, ${SLOWDOWN}x`,
      ...ms(median(runs.map((run) => run.cold))),
    },
    {
      name: `slowest of six filters by text, ${SLOWDOWN}x`,
      ...ms(median(runs.map((run) => Math.max(...run.warm)))),
      target: { atMost: 300 },
    },
  ]
}

/** Rows as a list draws them, thirty a frame, through the whole log, with the index loaded before. */
async function scroll(context: BrowserContext): Promise<Figure[]> {
  const { page } = await slowPage(context, SLOWDOWN)
  const longest = await page.evaluate(async () => {
    const log = await logPage.openLog()
    let longest = 0
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) longest = Math.max(longest, entry.duration)
    }).observe({ type: 'longtask' })
    const view = await log.find()
    const loading = longest
    longest = 0
    const steps = 100
    for (let step = 0; step < steps; step++) {
      await new Promise(requestAnimationFrame)
      const from = Math.floor((step / steps) * (view.count - 30))
      view.summaries(from, from + 30)
    }
    await new Promise((resolve) => setTimeout(resolve, 100))
    return { loading, scrolling: longest }
  })
  await page.close()
  return [
    { name: `longest task while the index loads, ${SLOWDOWN}x`, ...ms(longest.loading) },
    {
      name: `longest task while scrolling (0: none over 50 ms), ${SLOWDOWN}x`,
      ...ms(longest.scrolling),
      target: { atMost: 50 },
    },
  ]
}

async function take(context: BrowserContext, count: number): Promise<Figure[]> {
  const { page, session } = await slowPage(context, SLOWDOWN)
  await session.send('HeapProfiler.enable')
  await page.evaluate(async () => {
    globalThis.log = await logPage.openLog()
  })
  const heap = async () => {
    await session.send('HeapProfiler.collectGarbage')
    return (await session.send('Runtime.getHeapUsage')).usedSize
  }
  const before = await heap()
  // The thread's own time, with what the slowdown adds: it does not depend on what else the machine
  // does.
  await session.send('Performance.enable', { timeDomain: 'threadTicks' })
  const busySeconds = async () => {
    const { metrics } = await session.send('Performance.getMetrics')
    return metrics.find(({ name }) => name === 'TaskDuration')?.value ?? Number.NaN
  }
  const busyBefore = await busySeconds()
  const csv = await page.evaluate(async () => {
    const began = performance.now()
    const file = await logPage.fileFrom(log.export('csv'), 'log.csv', 'text/csv')
    return { took: performance.now() - began, bytes: file.size }
  })
  const busy = (await busySeconds()) - busyBefore
  // Once more with a look at the memory that is in use after each tenth; looking costs time.
  await page.evaluate(() => {
    const state = { done: 0, ended: false }
    Object.assign(globalThis, { state })
    const progress = (done: number) => {
      state.done = done
    }
    void logPage.fileFrom(log.export('csv', { progress }), 'log.csv', 'text/csv').then(() => {
      state.ended = true
    })
  })
  let most = 0
  for (let tenth = 1; tenth <= 9; tenth++) {
    await page.waitForFunction(
      (least) => {
        const { state } = globalThis as unknown as { state: { done: number; ended: boolean } }
        return state.done >= least || state.ended
      },
      (tenth / 10) * count,
      { timeout: 120_000 },
    )
    most = Math.max(most, (await heap()) - before)
  }
  await page.close()
  return [
    {
      name: `all as CSV (${(csv.bytes / 1e6).toFixed(0)} MB), ${SLOWDOWN}x`,
      ...seconds(csv.took),
      target: { atMost: 15 },
    },
    {
      name: `of it the page's thread was at work, ${SLOWDOWN}x`,
      ...seconds(1000 * busy),
    },
    {
      name: 'script memory in use while it is made, most of nine looks',
      value: most / 1e6,
      unit: 'MB',
      target: { atMost: 20 },
    },
  ]
}

async function save(context: BrowserContext): Promise<Figure[]> {
  const figures: Figure[] = []
  for (const rate of [1, SLOWDOWN]) {
    const { page } = await slowPage(context, rate)
    const times = await page.evaluate(async () => {
      const log = await logPage.openLog()
      const { method, result, inputs, object, notes } = logPage.madeUpReading(12_345)
      const took: number[] = []
      for (let i = 0; i < 30; i++) {
        const began = performance.now()
        await log.add({ method, result, inputs, object, notes })
        took.push(performance.now() - began)
      }
      return took
    })
    figures.push({ name: `saving one reading, strictly durable, ${rate}x`, ...ms(median(times)) })
    await page.close()
  }
  return figures
}
