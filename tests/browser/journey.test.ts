import { describe } from 'vitest'
import { appByHand } from '../journeys/app-by-hand.ts'
import { practicePhoto, saveReading } from '../journeys/steps.ts'
import { phone } from './browser.ts'
import { axe, test as base, cachedForOffline, draftNotes, expect, smallTargets } from './harness.ts'
import { showHow } from './practice-kit.ts'

const test = base.extend({ device: phone })

const MAP = 'Map: where it is hottest, how even'

/** The figure on the screen, in the unit that is set. */
const figureOf = (text: string | null) => Number(/-?\d+/.exec(text ?? '')?.[0])

describe('offline', () => {
  test.override({ offlineUse: true })
  test('a practice photo becomes a saved reading that is still there offline', async ({
    visit,
    site,
    context,
  }) => {
    const page = await visit('/')
    await cachedForOffline(page)
    await practicePhoto(appByHand(page))
    await expect
      .poll(() => page.locator('main:visible .tag').first().textContent())
      .toBe('Simulated')

    // The true temperature is told after reading, and the stated range holds it.
    const truth = page.getByText(/The true temperature is/)
    await truth.waitFor()
    expect(await truth.textContent()).toContain('inside the stated range')

    // Everything the result promises stands on the screen, once it is asked for.
    await page.getByText('Behind the figure').click()
    await page.getByText('What the ± is made of').waitFor()
    const text = (await page.locator('main:visible').textContent()) ?? ''
    for (const word of ['Chapman', 'Stirling', 'Duv', 'What the ± is made of']) {
      expect(text).toContain(word)
    }
    // The map of the heat: what it says as a whole, and a place by keyboard.
    await page.getByText(MAP, { exact: true }).click()
    const map = page.locator('[aria-roledescription="map of the heat"]')
    await map.waitFor()
    await page.getByText(/^Even within ± \d+ °C/).waitFor()
    await map.press('ArrowDown')
    await page.getByText(/than where the reading was taken|as hot as where/).waitFor()
    // Two lines with corners, and a band.
    await page.getByRole('button', { name: 'Lines', exact: true }).click()
    await page.getByRole('button', { name: 'Add corner' }).click()
    await page.getByRole('button', { name: 'Compare with a second line' }).click()
    await map.press('ArrowUp')
    await page.getByText(/^B is .* than A on average|^A and B are equal/).waitFor()
    await page.getByText('Target band', { exact: true }).click()
    await page.getByLabel('From, °C').fill('700')
    await page.getByLabel('To, °C').fill('1200')
    await page.getByText(/% lies in the band/).waitFor()
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])

    // A grey card in the same photo.
    await showHow(page)
    await page.getByRole('combobox', { name: 'Grey card' }).selectOption('this photo')
    await page.getByLabel('Light on the card').waitFor()
    await page.getByRole('button', { name: 'Glow', exact: true }).click()

    const shown = figureOf(await page.locator('.temperature .value').first().textContent())
    await page.getByRole('button', { name: /Name, notes/ }).click()
    await page.getByLabel('Object').fill('test bar')
    await page.getByRole('button', { name: 'Done' }).click()
    await saveReading(appByHand(page))
    // Gloves tap twice: the same reading is not saved again, a changed one is.
    expect(await page.getByRole('button', { name: 'Saved', exact: true }).isDisabled()).toBe(true)
    await page.getByLabel('White balance of the photo').selectOption('daylight')
    expect(await page.getByRole('button', { name: 'Save reading' }).isEnabled()).toBe(true)
    await page.getByLabel('White balance of the photo').selectOption('unknown')

    await page.getByRole('link', { name: 'Log', exact: true }).click()
    const row = page.locator('.log_log-row').first()
    await row.waitFor()
    expect(await row.textContent()).toContain('test bar')
    expect(await row.textContent()).toContain('Simulated')

    // The same view once more, read otherwise: the two maps are subtracted.
    await page.getByRole('link', { name: 'Reading', exact: true }).click()
    await page.getByLabel('White balance of the photo').selectOption('daylight')
    const kept = page.getByText('Compare with a kept map of this view')
    await kept.click()
    await page.getByText(/^(It changed evenly|No place changed)/).waitFor()
    await kept.click()
    await page.getByRole('button', { name: 'Save reading' }).click()
    await page.getByRole('link', { name: 'Log', exact: true }).click()
    const rows = page.locator('.log_log-row')
    await expect.poll(() => rows.count()).toBe(2)
    await page.getByRole('button', { name: 'Select' }).click()
    await rows.nth(0).click()
    await rows.nth(1).click()
    await page.getByRole('button', { name: 'Compare' }).click()
    await page.getByText('Map of the change: where it got hotter').click()
    await page.getByText('It changed evenly').or(page.getByText('No place changed')).waitFor()
    await page.locator('main:visible [aria-roledescription="map of the heat"]').press('ArrowDown')
    await page.getByText(/^Change here: /).waitFor()
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])

    // Tomorrow, with the server gone and no network: a fresh page, a deep link.
    await site.down()
    await context.setOffline(true)
    const tomorrow = await context.newPage()
    await tomorrow.goto(`${site.url}/log`)
    await tomorrow.locator('.log_log-row').nth(1).click()
    await tomorrow.locator('main:visible .temperature .value').first().waitFor()
    expect(
      figureOf(await tomorrow.locator('main:visible .temperature .value').first().textContent()),
    ).toBe(shown)
    await tomorrow.close()
    await context.setOffline(false)
    await site.up()
  })
})

test('a reload in the middle of the work brings the photo, the region and the choices back', async ({
  visit,
}) => {
  const page = await visit('/')
  await practicePhoto(appByHand(page))
  await showHow(page)
  await page.getByLabel('Surface').selectOption('cavity')
  await expect.poll(() => draftNotes(page)).toContain('"cavity"')
  const storedRegion = async () => JSON.parse(await draftNotes(page)).region
  const before = await storedRegion()
  const stage = page.getByRole('application')
  await stage.focus()
  await page.keyboard.press('ArrowUp')
  const region = await stage.getAttribute('aria-label')
  await expect.poll(storedRegion).not.toEqual(before)
  await page.reload()
  await page.locator('.temperature .value').waitFor()
  expect(await page.getByLabel('Surface').inputValue()).toBe('cavity')
  expect(await page.getByRole('application').getAttribute('aria-label')).toBe(region)
})

test('a deleted reading comes back by undo', async ({ visit }) => {
  const page = await visit('/')
  await practicePhoto(appByHand(page))
  await page.getByRole('button', { name: 'Save reading' }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.getByRole('button', { name: 'Delete' }).click()
  await page.getByText('Reading deleted.').waitFor()
  await expect.poll(() => page.locator('.log_log-row').count()).toBe(0)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(() => page.locator('.log_log-row').count()).toBe(1)
})

test('the region is moved and resized by keyboard, and the figure follows', async ({ visit }) => {
  const page = await visit('/')
  await practicePhoto(appByHand(page))
  const stage = page.getByRole('application')
  await stage.focus()
  const before = await stage.getAttribute('aria-label')
  await page.keyboard.press('Shift+ArrowLeft')
  await expect.poll(() => stage.getAttribute('aria-label')).not.toBe(before)
  // Into the dark: there is no figure, and the screen says why.
  for (let i = 0; i < 60; i++) await page.keyboard.press('ArrowUp')
  await page.getByRole('heading', { name: /Too dark|Below range|Not the colour/ }).waitFor()
})

test('a dropped file goes to the screen that is shown, and never leads out of the app', async ({
  visit,
}) => {
  const page = await visit('/')
  /** Answers whether the browser would have shown the file in the app's place. */
  const drop = (name: string, type: string) =>
    page.evaluate(
      ([name, type]) => {
        const dataTransfer = new DataTransfer()
        dataTransfer.items.add(new File(['1,2\n3,4\n'], name, { type }))
        return document.body.dispatchEvent(
          new DragEvent('drop', { dataTransfer, bubbles: true, cancelable: true }),
        )
      },
      [name, type] as const,
    )
  await page.getByRole('link', { name: 'Safety', exact: true }).click()
  expect(await drop('note.txt', 'text/plain')).toBe(false)
  await page.getByRole('link', { name: 'Reading', exact: true }).click()
  expect(await page.locator('.notice.stop').count()).toBe(0)

  expect(await drop('note.txt', 'text/plain')).toBe(false)
  await page.getByText('note.txt is no photo').waitFor()
  await practicePhoto(appByHand(page))
  expect(await drop('other.jpg', 'image/jpeg')).toBe(false)
  await page.getByText('A photo is open. Put it away first: New photo.').waitFor()
  expect(await page.locator('.temperature .value').count()).toBe(1)
})
