import { describe } from 'vitest'
import { axe, expect, smallTargets, test } from './harness.ts'
import { keep, openPhoto, practice } from './practice-kit.ts'

describe('a lamp', () => {
  test('measured by resistance is kept, photographed on a ladder, and shares its error', async ({
    visit,
  }) => {
    const page = await visit('/kit/lamp')
    await page.getByRole('button', { name: 'Ohms', exact: true }).click()
    await page.getByText('Still to come: cold resistance, volts now, amperes now.').waitFor()
    await page.getByLabel('Cold resistance, Ω').fill('61.5')
    await page.getByLabel('Volts now, V').fill('230.0')
    await page.getByLabel('Amperes now, A').fill('0.261')
    // Colour temperature above the filament's own (bare tungsten), see lamp-form.test.ts.
    const shown = Number(await page.locator('.lamp_lamp .value').textContent())
    expect(shown).toBeGreaterThan(2600)
    expect(shown).toBeLessThan(2800)
    await page
      .locator('p', { hasText: /The filament itself is at 23\d\d ± \d+ °C: bare tungsten/ })
      .waitFor()
    await page.getByText('What the ± is made of').click()
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])

    await page.getByLabel('Name of the lamp').fill('Bench lamp')
    await page.getByRole('button', { name: 'Keep the lamp' }).click()
    await page.getByText('The lamp is kept in the kit.').waitFor()
    await page.getByRole('button', { name: /Lamp ladder/ }).click()
    await page.getByRole('button', { name: 'Photograph this setting' }).click()
    // Any glow will do to go the way; that it is no lamp at 2700 K is told.
    await openPhoto(page, practice)
    await page.getByLabel('White balance of the photo').selectOption('daylight')
    await page.getByText('This does not fit').waitFor()
    await keep(page).click()
    await page.locator('.kit_ladder button[aria-current=step]', { hasText: '2380 K' }).waitFor()
    expect(await page.locator('.kit_ladder .kit_done', { hasText: 'kept' }).count()).toBe(1)
    expect(await page.getByLabel('Volts now, V').inputValue()).toBe('')

    await page.getByRole('link', { name: 'Back' }).click()
    const lamp = page.locator('section', { hasText: /^Lamps/ }).locator('.kit-entry_entry')
    await expect.poll(() => lamp.textContent()).toContain('1 photo')
  })

  test('on a cut wave says so, and the volts count less', async ({ visit }) => {
    const page = await visit('/kit/lamp')
    await page.getByRole('button', { name: 'Volts', exact: true }).click()
    await page.getByLabel('Rated volts, V').fill('230')
    await page.getByLabel('Volts now, V').fill('141')
    const plusMinus = async () =>
      Number(/\d+/.exec((await page.locator('.lamp_lamp .plus-minus').textContent()) ?? '')?.[0])
    const whole = await plusMinus()
    await page.getByLabel('Fed by').selectOption('cut')
    await page.getByText(/A mains dimmer cuts the wave/).waitFor()
    expect(await plusMinus()).toBeGreaterThan(1.2 * whole)
    await page.getByLabel('Volts now, V').fill('20')
    await page.getByText(/The rating law holds from 20 to 120 %/).waitFor()
    expect(await page.getByRole('button', { name: 'Photograph this setting' }).isDisabled()).toBe(
      true,
    )
  })

  test('a figure can be deleted and typed anew, key by key', async ({ visit }) => {
    const page = await visit('/kit/lamp')
    await page
      .locator('label', { hasText: /^Lamp/ })
      .locator('select')
      .first()
      .selectOption('stated')
    const field = page.getByLabel('Colour temperature, K')
    await field.press('Control+A')
    await field.press('Delete')
    await field.pressSequentially('27')
    expect(await field.inputValue()).toBe('27')
    await page.getByText('Between 1500 and 3450, please.').waitFor()
    await field.pressSequentially('50')
    expect(await field.inputValue()).toBe('2750')
    await expect.poll(() => page.getByText(/^Between 1500/).count()).toBe(0)
  })
})
