import type { Page } from 'playwright-core'
import { builtApp } from './browser.ts'

/** The simulated practice photo: its bar is at 1193 K, and a grey card lies beside it. */
export const practice = `${builtApp}/practice/forge-bar.jpg`
export const openPhoto = (page: Page, file: string) =>
  page
    .locator('label:visible', { hasText: 'Open a photo' })
    .locator('input')
    .first()
    .setInputFiles(file)
/** The start screen's own. */
export const chooser = (page: Page) =>
  page.locator('label:visible', { hasText: 'Open a photo, or several' }).locator('input')
export const keep = (page: Page) => page.getByRole('button', { name: 'Keep in the kit' })
export const settled = (page: Page) =>
  page.locator('.kit_benefit[aria-busy=false] .kit_narrows strong').waitFor()

/** A thermocouple beside the practice bar, kept in the kit. */
export async function keepPractice(page: Page): Promise<void> {
  await page.getByRole('link', { name: 'Add known heat' }).click()
  await page.getByRole('link', { name: /Thermocouple/ }).click()
  await page.getByLabel('It shows, °C').fill('920')
  await openPhoto(page, practice)
  await keep(page).waitFor()
  await page.getByLabel('White balance of the photo').selectOption('daylight')
  await page.getByLabel('Surface that is read').selectOption('cavity')
  await settled(page)
  await keep(page).click()
  await page.getByText('Kept in the kit.').waitFor()
}

/** The fold below a reading in which surface, balance and card are said. */
export const showHow = (page: Page) =>
  page.getByText('What it is, how it was taken', { exact: true }).click()

/** Until the page has drawn what was chosen: the estimate follows a choice at once. */
export const nextFrame = (page: Page) =>
  page.evaluate(
    () => new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn))),
  )

const kelvin = (celsius: string | undefined) => Number(celsius) + 273.15
/** The stated range of the reading on show, K. */
export async function rangeOf(page: Page): Promise<readonly [number, number]> {
  // Of a tone curve that has just come the photo is measured first.
  await page.locator('main:visible [aria-live][aria-busy=true]').waitFor({ state: 'detached' })
  const said = (await page.getByText(/19 times in 20/).textContent()) ?? ''
  const [low, high] = [...said.matchAll(/(-?\d+) °C/g)].map((match) => kelvin(match[1]))
  return [low ?? Number.NaN, high ?? Number.NaN]
}
