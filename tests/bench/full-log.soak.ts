import type { Page } from 'playwright-core'
import { standing } from '../browser/browser.ts'
import { type Bench, type Figure, heapGrowth, median } from './figure.ts'
import { fillLog, fillRecordings, openLog, searched } from './log-of-many.ts'
import { onDisk } from './on-disk.ts'
import { type PageCounts, pageCounts } from './page-counts.ts'

/** Main thread slowed down as on a mid-range phone. */
const SLOWDOWN = 4
const SAMPLES = 12
const RECORDING_SECONDS = 60

const ms = (value: number) => ({ value, unit: 'ms', timed: true })

/** A log of years, with recordings: as fast as a young one, and nothing kept of visits. */
export const bench: Bench = ({ short, url }) => {
  const [readings, recordings] = short ? [500, 20] : [100_000, 2000]
  return onDisk(url, async (context, folder) => {
    await fillLog(context, folder, readings)
    await fillRecordings(context, folder, recordings, RECORDING_SECONDS)
    const page = await context.newPage()
    const session = await context.newCDPSession(page)
    await session.send('Emulation.setCPUThrottlingRate', { rate: SLOWDOWN })
    const opened: number[] = []
    for (let n = 0; n < 3; n++) opened.push((await openLog(page)).tapped)
    const slowest = await searched(page)
    const listed: number[] = []
    const counts: PageCounts[] = []
    // To and fro within one page: what it keeps of each visit.
    for (let n = 0; n < SAMPLES; n++) {
      listed.push(await recordingsListed(page))
      await page.getByRole('link', { name: 'Safety', exact: true }).click()
      await standing(page)
      await page.getByRole('link', { name: 'Log', exact: true }).click()
      await page.locator('.log_log-row').first().waitFor()
      counts.push(await pageCounts(session))
    }
    const what = `log of ${readings} readings and ${recordings} recordings of a minute`
    return [
      {
        name: `${what}, opened from another screen, ${SLOWDOWN}x`,
        ...ms(median(opened)),
        target: { atMost: 500 },
      },
      {
        name: `slowest of six searches in it, ${SLOWDOWN}x`,
        ...ms(slowest),
        target: { atMost: 300 },
      },
      {
        name: `its recordings listed, ${SLOWDOWN}x`,
        ...ms(median(listed)),
        target: { atMost: 500 },
      },
      heapGrowth(what, counts),
    ] satisfies Figure[]
  })
}

/** From the tap in the log to the first of the recordings on screen. */
function recordingsListed(page: Page): Promise<number> {
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const began = performance.now()
        document.querySelector<HTMLAnchorElement>('a[href="/log/recordings"]')?.click()
        const look = () => {
          if (document.querySelector('.recording_row') === null) requestAnimationFrame(look)
          else requestAnimationFrame(() => resolve(performance.now() - began))
        }
        look()
      }),
  )
}
