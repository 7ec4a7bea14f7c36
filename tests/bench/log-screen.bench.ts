import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BrowserContext, chromium, type Page } from 'playwright-core'
import { browserFlags, ensureBrowser } from '../../scripts/find-browser.mjs'
import { phone, standing } from '../browser/browser.ts'
import { madeUpReadings } from '../browser/log-page/made-up.ts'
import { type Bench, type Figure, median } from './figure.ts'

/** Main thread slowed down as on a mid-range phone. */
const SLOWDOWN = 4
const FILE_READINGS = 20_000
const PATIENCE_MS = 300_000

const ms = (value: number) => ({ value, unit: 'ms', timed: true })

/** The log's screens in the built app, with as many readings as nobody will ever have. */
export const bench: Bench = async ({ short, url }) => {
  const count = short ? 2000 : 100_000
  const folder = await mkdtemp(join(tmpdir(), 'glowbook-bench-'))
  const context = await chromium.launchPersistentContext(join(folder, 'profile'), {
    ...phone,
    baseURL: url,
    executablePath: ensureBrowser(),
    args: browserFlags,
  })
  context.setDefaultTimeout(PATIENCE_MS)
  try {
    await fill(context, folder, count)
    const page = await context.newPage()
    const session = await context.newCDPSession(page)
    const slow = (rate: number) => session.send('Emulation.setCPUThrottlingRate', { rate })
    const opened: { cold: number; tapped: number }[] = []
    for (let run = 0; run < (short ? 1 : 3); run++) {
      await slow(SLOWDOWN)
      opened.push(await open(page))
    }
    const filtered = await filter(page)
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
  } finally {
    await context.close()
    await rm(folder, { recursive: true, force: true })
  }
}

/** Brings files in, as a person would. */
async function fill(context: BrowserContext, folder: string, count: number): Promise<void> {
  const page = await context.newPage()
  await page.goto('/log/keeping')
  await standing(page)
  for (let from = 0; from < count; from += FILE_READINGS) {
    const file = join(folder, 'readings.json')
    const blob = madeUpReadings(from, Math.min(from + FILE_READINGS, count))
    await writeFile(file, new Uint8Array(await blob.arrayBuffer()))
    await page.locator('main.log_log input[type=file]').setInputFiles(file)
    await page.getByRole('button', { name: 'Import it' }).click()
    await page.getByText(/^Imported/).waitFor()
  }
  await page.close()
}

/** From the address, and from a tap on another screen; once the index has been loaded before. */
async function open(page: Page): Promise<{ cold: number; tapped: number }> {
  await page.goto('about:blank')
  await page.goto('/log')
  const cold = await firstRows(page)
  await page.goto('/safety')
  await standing(page)
  await page.evaluate(() => {
    document
      .querySelector('a[href="/log"]')
      ?.addEventListener('click', () => performance.mark('tap'), { once: true })
  })
  await page.getByRole('link', { name: 'Log', exact: true }).click()
  const tapped = (await firstRows(page)) - (await markAt(page, 'tap'))
  return { cold, tapped }
}

const markAt = (page: Page, name: string) =>
  page.evaluate((mark) => performance.getEntriesByName(mark)[0]?.startTime ?? Number.NaN, name)

/** When the frame with the first rows was there, ms since the page began. */
function firstRows(page: Page): Promise<number> {
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        const look = () => {
          if (document.querySelector('.log_log-row') === null) requestAnimationFrame(look)
          else requestAnimationFrame(() => resolve(performance.now()))
        }
        look()
      }),
  )
}

async function filter(page: Page): Promise<number> {
  await settled(page)
  // Each finds another number than the one before: the header says when it is there.
  const times: number[] = []
  for (const text of ['orange', 'kiln', 'nothing like it', 'ortl', 'late', '']) {
    times.push(
      await page.evaluate(
        (typed) =>
          new Promise<number>((resolve) => {
            const header = document.querySelector('main.log_log > header')!
            const input = document.querySelector<HTMLInputElement>(
              'main.log_log input[type=search]',
            )!
            const began = performance.now()
            new MutationObserver((_, observer) => {
              observer.disconnect()
              requestAnimationFrame(() => resolve(performance.now() - began))
            }).observe(header, { subtree: true, childList: true, characterData: true })
            input.value = typed
            input.dispatchEvent(new InputEvent('input', { bubbles: true }))
          }),
        text,
      ),
    )
  }
  return Math.max(...times)
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

/** The index of all readings is there: the header counts what the view holds. */
async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelectorAll('.log_log-row').length > 5)
  await page.waitForTimeout(3000)
}
