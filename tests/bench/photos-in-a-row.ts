import { readFile } from 'node:fs/promises'
import { fileURLToPath } from 'node:url'
import type { Browser } from 'playwright-core'
import { phone, standing } from '../browser/browser.ts'
import { type PageCounts, pageCounts } from './page-counts.ts'

const PHOTO = fileURLToPath(new URL('../data/photos/set4-salt-7.jpg', import.meta.url))

/** Opens one photo after another, each put away by "New photo": what the page keeps after each. */
export async function photosInARow(
  browser: Browser,
  url: string,
  count: number,
): Promise<PageCounts[]> {
  const context = await browser.newContext(phone)
  const page = await context.newPage()
  await page.goto(url)
  await standing(page)
  const session = await context.newCDPSession(page)
  const base64 = (await readFile(PHOTO)).toString('base64')
  const counts: PageCounts[] = []
  for (let n = 0; n < count; n++) {
    await page.evaluate(giveFile, base64)
    await page.locator('section.result_result').first().waitFor()
    await page.getByRole('button', { name: 'New photo' }).click()
    await page.getByRole('button', { name: /Practice photo/ }).waitFor()
    // The screen that leaves is taken out a moment later.
    await page.waitForTimeout(500)
    counts.push(await pageCounts(session))
  }
  await context.close()
  return counts
}

/**
 * Runs in the page. Playwright's own way of giving a file keeps the input of each photo alive (23
 * nodes and 4 listeners), which would pass for a leak of the app.
 */
function giveFile(base64: string): void {
  const bytes = Uint8Array.from(atob(base64), (character) => character.charCodeAt(0))
  const transfer = new DataTransfer()
  transfer.items.add(new File([bytes], 'glow.jpg', { type: 'image/jpeg' }))
  const input = [...document.querySelectorAll<HTMLInputElement>('main input[type=file]')]
    .filter((element) => element.checkVisibility())
    .at(-1)
  if (input === undefined) throw new Error('No field for a photo.')
  input.files = transfer.files
  input.dispatchEvent(new Event('change', { bubbles: true }))
}
