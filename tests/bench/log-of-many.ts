import { writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { BrowserContext, Page } from 'playwright-core'
import { standing } from '../browser/browser.ts'
import { madeUpReadings } from '../browser/log-page/made-up.ts'
import { madeUpRecordings } from '../browser/log-page/made-up-recordings.ts'

const FILE_READINGS = 20_000

/** Brings files in, as a person would. */
export async function fillLog(
  context: BrowserContext,
  folder: string,
  count: number,
): Promise<void> {
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

/** Recordings from a file, likewise, all at once. */
export async function fillRecordings(
  context: BrowserContext,
  folder: string,
  count: number,
  seconds: number,
): Promise<void> {
  const page = await context.newPage()
  await page.goto('/log/recordings')
  await standing(page)
  const file = join(folder, 'recordings.zip')
  await writeFile(file, madeUpRecordings(count, seconds))
  await page.locator('main:visible input[type=file]').setInputFiles(file)
  await page.getByText(new RegExp(`^${count} recordings? imported`)).waitFor()
  await page.close()
}

/** From the address, and from a tap on another screen; once the index has been loaded before. */
export async function openLog(page: Page): Promise<{ cold: number; tapped: number }> {
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

/** Six words typed into the search of the log: the slowest until its rows are found, ms. */
export async function searched(page: Page): Promise<number> {
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

/** The index of all readings is there: the header counts what the view holds. */
export async function settled(page: Page): Promise<void> {
  await page.waitForFunction(() => document.querySelectorAll('.log_log-row').length > 5)
  await page.waitForTimeout(3000)
}
