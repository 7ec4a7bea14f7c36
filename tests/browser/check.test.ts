import { appByHand } from '../journeys/app-by-hand.ts'
import { practicePhoto } from '../journeys/steps.ts'
import { axe, expect, lead, smallTargets, test } from './harness.ts'

/** The made-up workshop holds one heater read in four ways, of which the photo's is wrong on purpose. */
async function withWorkshop(page: import('playwright-core').Page) {
  await page.getByRole('button', { name: /made-up workshop/i }).click()
  await page.locator('.log_log-row').first().waitFor()
}

test('four readings of one object stand on one axis, and the wrong one is named', async ({
  visit,
}) => {
  const page = await visit('/log')
  await withWorkshop(page)
  await lead(page, '/reading/check')
  await page
    .getByRole('combobox', { name: 'Object' })
    .selectOption({ label: 'Radiant heater, right (4)' })
  await expect
    .poll(() => page.locator('.check_axis > li:not(.check_together, .check_ends)').count())
    .toBe(4)
  await page.getByText('Camera colour is the odd one out').waitFor()
  // What excludes itself has no joint figure, but a reason and a next step.
  expect(await page.locator('section[aria-live=polite] .temperature').count()).toBe(0)
  await page.getByText('Likeliest reason').waitFor()
  expect(await page.locator('.check_axis .check_odd').count()).toBe(1)

  // Left out, the rest agree, and the combined value is saved with its parts.
  await page.locator('.check_axis li', { hasText: 'Camera colour' }).getByRole('checkbox').uncheck()
  await page
    .getByText(/^(Note: )?They agree/)
    .first()
    .waitFor()
  const figure = await page.locator('section[aria-live=polite] .temperature .value').textContent()
  expect(Number(figure)).toBeGreaterThan(930)
  expect(Number(figure)).toBeLessThan(970)
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  await page.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.getByText('Combined').first().waitFor()
})

test('supply power gives a temperature, and a verdict on the reading it is asked of', async ({
  visit,
}) => {
  const page = await visit('/reading/check')
  const answer = page.locator('main:visible section[aria-live=polite]')
  /** A straight 0.5 mm nickel-chromium wire of 300 mm at 60 W (made up). */
  const fillWire = async () => {
    await page.getByRole('combobox', { name: 'Ask' }).selectOption('supply')
    const measure = (label: string) =>
      page.locator('.measure-field_measure', { hasText: label }).locator('input').first()
    await measure('Length, mm').fill('300')
    await measure('Diameter, mm').fill('0.5')
    await measure('Volts').fill('12')
    await measure('Amperes').fill('5')
  }
  await fillWire()
  // Nothing is taken unsaid.
  await page.getByText('Choose the surface and fill in the numbers').waitFor()
  await page.getByRole('combobox', { name: 'Surface' }).selectOption('nickel-chromium-oxidised')
  await answer.locator('.temperature .value').waitFor()
  await page.getByText(/Largest part of the ±/).waitFor()
  expect(await axe(page)).toEqual([])

  // From an open reading, before it is saved: it is filled in, its surface too.
  await page.goto('/')
  await practicePhoto(appByHand(page))
  await page.getByRole('link', { name: 'Can that be true?' }).click()
  await page.getByText('Nothing to compare with yet').waitFor()
  await fillWire()
  await answer.getByText('They agree within what is known').waitFor()
  await answer.getByText(/^Camera colour says \d+ ± \d+ °C\. Together/).waitFor()
  // What rests on simulated light is kept as such.
  await answer.getByRole('button', { name: 'Save', exact: true }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.locator('main.log_log').getByText('Simulated', { exact: true }).waitFor()
})

test('a magnet and the cold resistance narrow the alloy', async ({ visit }) => {
  const page = await visit('/reading/check')
  await page.getByRole('combobox', { name: 'Ask' }).selectOption('alloy')
  await page.getByRole('button', { name: 'Sticks' }).click()
  await page.getByText('Iron-chromium-aluminium').first().waitFor()
  expect(await page.getByText('Nickel-chromium 80/20').count()).toBe(0)
})
