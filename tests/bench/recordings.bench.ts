import { launchBrowser } from '../browser/browser.ts'
import { logSite } from '../browser/log-site.ts'
import type { Bench } from './figure.ts'

/** Two hours at ten readings a second. */
const READINGS = 72_000

/** A log that holds many long recordings, against the same without them. */
export const bench: Bench = async ({ short }) => {
  const count = short ? 5 : 100
  const { url, end } = await logSite()
  const browser = await launchBrowser()
  try {
    const page = await (await browser.newContext()).newPage()
    /** From nothing to the log open, a reading found and all recordings listed. */
    const opened = async () => {
      await page.goto(url)
      return page.evaluate(async () => {
        const began = performance.now()
        const log = await logPage.openLog()
        const found = await log.find({})
        const readings = performance.now() - began
        const { items } = await log.recordings.list()
        const listed = performance.now() - began - readings
        await log.close()
        return { readings, listed, count: items.length, shown: found.summaries().length }
      })
    }
    await page.goto(url)
    await page.evaluate(async () => {
      const log = await logPage.openLog()
      for (let i = 0; i < 200; i++) await log.add(logPage.madeUpReading(i))
      await log.close()
    })
    await opened()
    const before = await opened()
    await page.goto(url)
    await page.evaluate(
      async ([recordings, readings]) => {
        const log = await logPage.openLog()
        for (let n = 0; n < recordings!; n++) {
          const columns = logPage.emptyColumns(readings!)
          for (let i = 0; i < readings!; i++) {
            columns.ms[i] = 100 * i
            columns.temperatureK[i] = 1200 + 100 * Math.sin(i / 5000 + n)
            columns.commonK[i] = 10
          }
          await log.recordings.add(
            {
              source: 'live',
              simulated: true,
              startedAt: { iso: new Date(1.7e12 + 1e7 * n).toISOString(), zone: 'UTC' },
              cameraId: 'a made-up camera',
              methodVersion: '1',
            },
            columns,
            null,
          )
        }
        await log.close()
      },
      [count, READINGS] as const,
    )
    const after = await opened()
    const one = await page.evaluate(async () => {
      const log = await logPage.openLog()
      const { items } = await log.recordings.list()
      const began = performance.now()
      const stored = await log.recordings.get(items[0]!.id)
      const took = performance.now() - began
      await log.close()
      return { took, readings: stored?.columns.ms.length ?? 0 }
    })
    const ms = (value: number) => ({ value, unit: 'ms', timed: true })
    return [
      { name: 'recordings of two hours in the log', value: after.count, unit: '' },
      { name: 'log without them, to its readings', ...ms(before.readings) },
      {
        name: 'log with them, to its readings: that much more',
        ...ms(Math.max(0, after.readings - before.readings)),
        target: { atMost: 50 },
      },
      { name: 'all recordings listed', ...ms(after.listed), target: { atMost: 200 } },
      { name: `one of ${one.readings} readings opened`, ...ms(one.took) },
    ]
  } finally {
    await browser.close()
    await end()
  }
}
