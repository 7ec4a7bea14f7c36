import type { BrowserContext, Page } from 'playwright-core'
import type { Log } from '../browser/log-page/main.ts'
import { logSite } from '../browser/log-site.ts'
import { type Bench, type Figure, median } from './figure.ts'
import { onDisk } from './on-disk.ts'

declare global {
  var log: Log
}

const PICTURES = 200

/** What the second copy costs at a save, and how soon it makes a lost database whole again. */
export const bench: Bench = async ({ short }) => {
  const count = short ? 500 : 20_000
  const { url, end } = await logSite()
  try {
    return await onDisk(url, async (context) => [
      ...(await saving(context, short ? 100 : 200)),
      ...(await rebuilding(context, count, url)),
    ])
  } finally {
    await end()
  }
}

async function pageOf(context: BrowserContext): Promise<Page> {
  const page = await context.newPage()
  await page.goto('/')
  await page.waitForFunction(() => 'logPage' in globalThis)
  return page
}

/** Saves of a reading with a picture, with and without the second copy in turns: the load is the same. */
async function saving(context: BrowserContext, saves: number): Promise<Figure[]> {
  const page = await pageOf(context)
  const { one, two } = await page.evaluate(async (saves) => {
    const withOne = await logPage.openLog({
      name: 'saving with one',
      journal: () => Promise.reject(new Error('not wanted')),
    })
    const withTwo = await logPage.openLog({ name: 'saving with two' })
    const canvas = new OffscreenCanvas(300, 200)
    canvas.getContext('2d')?.fillRect(0, 0, 100, 200)
    const blob = await canvas.convertToBlob({ type: 'image/jpeg' })
    const timed = async (log: Log, n: number) => {
      const { method, result, inputs } = logPage.madeUpReading(n)
      const began = performance.now()
      await log.add({ method, result, inputs }, { blob, width: 300, height: 200 })
      return performance.now() - began
    }
    const took = { one: [] as number[], two: [] as number[] }
    for (let n = 0; n < saves; n++) {
      const first = n % 2 === 0
      if (first) took.one.push(await timed(withOne, n))
      took.two.push(await timed(withTwo, n))
      if (!first) took.one.push(await timed(withOne, n))
    }
    withOne.close()
    withTwo.close()
    return took
  }, saves)
  await page.close()
  return [
    { name: 'a save with a picture, one copy', value: median(one), unit: 'ms', timed: true },
    { name: 'a save with a picture, two copies', value: median(two), unit: 'ms', timed: true },
    {
      name: `two copies over one, median of ${saves} pairs`,
      value: median(two.map((ms, n) => ms / one[n]!)),
      unit: 'times',
      timed: true,
      target: { atMost: 1.5 },
    },
  ]
}

async function rebuilding(context: BrowserContext, count: number, url: string): Promise<Figure[]> {
  const page = await pageOf(context)
  const imported = await page.evaluate(
    async ({ count, pictures }) => {
      globalThis.log = await logPage.openLog()
      const canvas = new OffscreenCanvas(300, 200)
      canvas.getContext('2d')?.fillRect(0, 0, 100, 200)
      const blob = await canvas.convertToBlob({ type: 'image/jpeg' })
      for (let n = 0; n < pictures; n++) {
        const { method, result, inputs } = logPage.madeUpReading(n)
        await log.add({ method, result, inputs }, { blob, width: 300, height: 200 })
      }
      const preview = await log.readFile(logPage.madeUpReadings(0, count - pictures))
      const began = performance.now()
      await preview.merge({ conflicts: 'mine' })
      const took = performance.now() - began
      log.close()
      return took
    },
    { count, pictures: Math.min(PICTURES, count / 2) },
  )
  const session = await context.newCDPSession(page)
  await session.send('Storage.clearDataForOrigin', { origin: url, storageTypes: 'indexeddb' })
  const { took, listed } = await page.evaluate(async () => {
    const began = performance.now()
    const log = await logPage.openLog()
    const listed = (await log.find()).count
    return { took: performance.now() - began, listed }
  })
  return [
    {
      name: `merging ${count} readings with two copies`,
      value: imported / 1000,
      unit: 's',
      timed: true,
    },
    { name: 'readings rebuilt', value: listed, unit: `of ${count}`, target: { atLeast: count } },
    {
      name: `rebuilding ${count} readings, ready to search`,
      value: took / 1000,
      unit: 's',
      timed: true,
      target: { atMost: 10 },
    },
  ]
}
