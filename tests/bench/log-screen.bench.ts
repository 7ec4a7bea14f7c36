import type { Page } from 'playwright-core'
import { type Bench, type Figure, median } from './figure.ts'
import { fillLog, openLog, searched, settled } from './log-of-many.ts'
import { onDisk } from './on-disk.ts'

/** Main thread slowed down as on a mid-range phone. */
const SLOWDOWN = 4

const ms = (value: number) => ({ value, unit: 'ms', timed: true })

/** The log's screens in the built app, with as many readings as nobody will ever have. */
export const bench: Bench = ({ short, url }) => {
  const count = short ? 2000 : 100_000
  return onDisk(url, async (context, folder) => {
    await fillLog(context, folder, count)
    const page = await context.newPage()
    const session = await context.newCDPSession(page)
    const slow = (rate: number) => session.send('Emulation.setCPUThrottlingRate', { rate })
    const opened: { cold: number; tapped: number }[] = []
    for (let run = 0; run < (short ? 1 : 3); run++) {
      await slow(SLOWDOWN)
      opened.push(await openLog(page))
    }
    const filtered = await searched(page)
    const scrolled = await scroll(page)
    const table = await take(page)
    return [
      {
        name: `log of ${count} opened from another screen, to its first rows, ${SLOWDOWN}x`,
        ...ms(median(opened.map(({ tapped }) => tapped))),
        target: { atMost: 500 },
      },
      {
        name: `the app opened on the log, to its first rows, ${SLOWDOWN}x`,
        ...ms(median(opened.map(({ cold }) => cold))),
      },
      {
        name: `slowest of six words typed into the search, to the rows found, ${SLOWDOWN}x`,
        ...ms(filtered),
        target: { atMost: 300 },
      },
      {
        name: `longest task while the list scrolls (0: none over 50 ms), ${SLOWDOWN}x`,
        ...ms(scrolled),
        target: { atMost: 50 },
      },
      {
        name: `all as CSV, from the tap to the finished file, ${SLOWDOWN}x`,
        value: table / 1000,
        unit: 's',
        timed: true,
        target: { atMost: 15 },
      },
    ] satisfies Figure[]
  })
}

/** From end to end, a hundred frames. */
async function scroll(page: Page): Promise<number> {
  await settled(page)
  return page.evaluate(async () => {
    let longest = 0
    new PerformanceObserver((list) => {
      for (const entry of list.getEntries()) longest = Math.max(longest, entry.duration)
    }).observe({ type: 'longtask' })
    const height = document.documentElement.scrollHeight
    for (let step = 0; step < 100; step++) {
      await new Promise(requestAnimationFrame)
      scrollTo(0, (step / 100) * height)
    }
    await new Promise((resolve) => setTimeout(resolve, 200))
    return longest
  })
}

async function take(page: Page): Promise<number> {
  await page.goto('/log/keeping')
  await page.getByRole('button', { name: 'CSV', exact: true }).click()
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const named = (text: string) =>
          [...document.querySelectorAll<HTMLButtonElement>('main.log_log button')].find((button) =>
            button.textContent?.includes(text),
          )
        const began = performance.now()
        named('Make the file')?.click()
        const look = () => {
          if (named('Save it') ?? named('Share it')) resolve(performance.now() - began)
          else requestAnimationFrame(look)
        }
        look()
      }),
  )
}
