import { readFileSync } from 'node:fs'
import { describe } from 'vitest'
import { appByHand } from '../journeys/app-by-hand.ts'
import { practicePhoto } from '../journeys/steps.ts'
import { cachedForOffline, expect, lead, test } from './harness.ts'
import { clean, importReadings, readings } from './log-steps.ts'

/** One reading and a series of them, in the built app. */

describe('one reading', () => {
  test('is corrected, and keeps its former values', async ({ visit }) => {
    const page = await visit('/log')
    await importReadings(
      page,
      readings(1, () => ({ object: 'Bar', supply: null })),
    )
    await page.locator('.log_log-row').click()
    await page.getByRole('button', { name: 'Edit' }).click()
    await clean(page)
    await page.getByLabel('Object').fill('Bar, second end')
    await page.getByLabel('Volts').fill('about 12')
    await page.getByRole('button', { name: 'Save changes' }).click()
    await page.getByText('Not saved: see the marked fields.').waitFor()
    expect(await page.getByLabel('Volts').getAttribute('aria-invalid')).toBe('true')
    await page.getByLabel('Volts').fill('12,5')

    // A reload in the middle of typing loses nothing.
    await page.reload()
    await page.getByRole('button', { name: 'Save changes' }).waitFor()
    expect(await page.getByLabel('Volts').inputValue()).toBe('12,5')
    await page.getByRole('button', { name: 'Save changes' }).click()
    await page.getByText('12.5 V').waitFor()
    await page.getByText('Former values (1)').click()
    expect(await page.locator('main.entry').textContent()).toContain('Object: Bar')
    await clean(page)
  })

  test('of the wrong surface is computed again, and both figures stay', async ({ visit }) => {
    const page = await visit('/')
    await practicePhoto(appByHand(page))
    await page.getByRole('button', { name: 'Save reading' }).click()
    await page.getByRole('button', { name: 'Open', exact: true }).click()
    await page.locator('main.entry .temperature').waitFor()
    const figure = () => page.locator('main.entry .temperature').textContent()
    const before = await figure()
    expect(await page.getByRole('heading', { name: 'Compute again' }).count()).toBe(0)
    await page.getByRole('button', { name: 'Edit' }).click()
    await page.getByLabel('Surface').last().selectOption('tungsten-bare')
    await page.getByRole('button', { name: 'Save changes' }).click()
    await page.getByRole('heading', { name: 'Compute again' }).waitFor()
    await clean(page)
    await page.getByRole('button', { name: 'Keep this figure' }).click()
    await expect.poll(figure).not.toBe(before)
    await page.getByText('How it was computed').click()
    expect(await page.locator('main.entry').textContent()).toMatch(/other surface.*as saved/)
    expect(await page.getByRole('heading', { name: 'Compute again' }).count()).toBe(0)
  })

  test('is entered by hand, with its ±, and can be corrected', async ({ visit }) => {
    const page = await visit('/log/by-hand')
    await clean(page)
    await page.getByLabel('Object').fill('Kiln')
    await page.getByRole('button', { name: 'Save reading' }).click()
    expect(await page.getByLabel(/^Temperature/).getAttribute('aria-invalid')).toBe('true')
    await page.getByLabel(/^Temperature/).fill('850,5')
    await page.getByLabel(/^±/).fill('8')
    await page.getByRole('button', { name: 'Save reading' }).click()
    await page.locator('main.entry .temperature').waitFor()
    expect(await page.locator('main.entry .temperature').textContent()).toMatch(/851 ± 8 °C/)
    await page.getByRole('button', { name: 'Edit' }).click()
    await page.getByLabel(/^±/).fill('15')
    await page.getByRole('button', { name: 'Save changes' }).click()
    await expect
      .poll(() => page.locator('main.entry .temperature').textContent())
      .toMatch(/851 ± 15/)
    await page.getByText('Former values (1)').click()
    await page.getByText('Temperature: 851 ± 8 °C').waitFor()
  })

  describe('offline', () => {
    test.override({ offlineUse: true })
    test('opens by its address with the network gone', async ({ visit, site, context }) => {
      const page = await visit('/log')
      await cachedForOffline(page)
      const [one] = readings(1, () => ({ object: 'Far bar' }))
      await importReadings(page, [one!])
      await site.down()
      await context.setOffline(true)
      const tomorrow = await context.newPage()
      await tomorrow.goto(`${site.url}/log/${one!.id}`)
      await tomorrow.locator('main.entry .temperature').waitFor()
      expect(await tomorrow.locator('main.entry').textContent()).toContain('Far bar')
      await tomorrow.getByRole('link', { name: 'Far bar over time' }).click()
      await tomorrow.locator('.u-over').waitFor()
      await context.setOffline(false)
      await site.up()
    })
  })

  test('that is damaged is kept as it lies, with its text to export', async ({ visit }) => {
    const page = await visit('/log')
    const [one] = readings(1)
    await importReadings(page, [one!])
    await page.evaluate(async () => {
      const db = await new Promise<IDBDatabase>((resolve) => {
        const request = indexedDB.open('glowbook')
        request.onsuccess = () => resolve(request.result)
      })
      const tx = db.transaction('readings', 'readwrite')
      const store = tx.objectStore('readings')
      store.openCursor().onsuccess = function () {
        const cursor = this.result
        if (!cursor) return
        const json = cursor.value.json.replace('"method":', '"methode":')
        cursor.update({ ...cursor.value, json })
      }
      await new Promise((resolve) => {
        tx.oncomplete = resolve
      })
      db.close()
    })
    await page.goto('/log/keeping')
    await page.getByRole('button', { name: 'Check every record' }).click()
    await page.getByText(/1 record is damaged/).waitFor()
    await lead(page, `/log/${one!.id}`)
    await page.getByText('This record is damaged').waitFor()
    expect(await page.locator('pre').textContent()).toContain(one!.object)
    await clean(page)
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Export the text' }).click(),
    ])
    expect(readFileSync(await download.path(), 'utf8')).toContain(one!.object)
  })
})

describe('a series', () => {
  test('is drawn over time and against volts, and its numbers are there as text', async ({
    visit,
  }) => {
    const page = await visit('/log')
    const supply = (n: number) => ({ volts: 100 + 10 * n, amperes: null, watts: null })
    await importReadings(
      page,
      readings(8, (n) => ({ object: 'Coil', supply: supply(n) })),
    )
    await page.getByRole('link', { name: 'Series' }).click()
    await page.locator('.u-over').waitFor()
    expect(await page.getByRole('button', { name: 'Watts' }).count()).toBe(0)
    await page.getByRole('button', { name: 'Volts' }).click()
    await page.getByRole('img', { name: 'Coil: temperature against volts' }).waitFor()
    await page.getByText('Numbers', { exact: true }).click()
    await expect.poll(() => page.locator('.plot_plot-table').textContent()).toContain('170')
    await clean(page)

    await page.emulateMedia({ media: 'print' })
    expect(await page.getByRole('navigation').isVisible()).toBe(false)
    expect(await page.locator('.print-only .numbers-table tbody tr').count()).toBe(8)
    await page.emulateMedia({ media: null })
  })
})
