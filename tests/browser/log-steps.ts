import type { Page } from 'playwright-core'
import type { Reading } from '../../src/log/schema/types.ts'
import { axe, expect, lead, smallTargets } from './harness.ts'
import { madeUpReading } from './log-page/made-up.ts'

/** Steps that tests of the log share. */

const OBJECTS = ['Anvil', 'Bolt 7', 'Chisel', 'Furnace', 'Girder']

/** Readings of five objects; what they rest on is left out. */
export const readings = (
  count: number,
  change: (n: number) => Partial<Reading> = () => ({}),
): Reading[] =>
  Array.from({ length: count }, (_, n) => {
    const made = madeUpReading(n)
    return { ...made, object: OBJECTS[n % 5]!, inputs: null, details: null, ...change(n) }
  })

export const fileOf = (some: readonly unknown[], name = 'log.json') => ({
  name,
  mimeType: 'application/json',
  buffer: Buffer.from(
    JSON.stringify({ schema: 'glowbook-log', version: 2, readings: some, kit: [] }),
  ),
})

export async function importReadings(page: Page, some: readonly Reading[]): Promise<void> {
  await lead(page, '/log/keeping')
  await page.locator('main.log_log input[type=file]').setInputFiles(fileOf(some))
  await page.getByRole('button', { name: 'Import it' }).click()
  await page.getByText(/^Imported/).waitFor()
  await page.getByRole('link', { name: 'Back', exact: true }).click()
  await page.locator('.log_log-row').first().waitFor()
}

/** What the header says: "12 readings". */
export const count = (page: Page) => page.locator('main.log_log > header > .soft').textContent()
export const rowTexts = (page: Page) => page.locator('.log_log-row').allTextContents()
const fits = async (page: Page) =>
  (await page.evaluate(() => document.documentElement.scrollWidth)) <= 390

export async function clean(page: Page): Promise<void> {
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  expect(await fits(page)).toBe(true)
}
