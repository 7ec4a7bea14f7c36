import { describe } from 'vitest'
import { currentResult } from '../../src/log/schema/reading-schema.ts'
import { expect, lead, test } from './harness.ts'
import { clean, count, importReadings, readings, rowTexts } from './log-steps.ts'

/** The log as a person uses it, in the built app. */

describe('finding', () => {
  test('by words and filters, each taken away by a touch', async ({ visit }) => {
    const page = await visit('/log')
    await importReadings(page, readings(40))
    expect(await count(page)).toBe('40 readings')
    await clean(page)

    await page.getByRole('searchbox').fill('furn')
    await expect.poll(() => count(page)).toBe('8 readings')
    await page.getByRole('searchbox').fill('no such thing')
    await page.getByText('Nothing fits.').waitFor()
    await page.getByRole('searchbox').fill('')

    await page.getByRole('button', { name: 'Filter' }).click()
    const dialog = page.getByRole('dialog')
    await dialog.getByLabel('Object').selectOption('Chisel')
    await dialog.getByRole('button', { name: 'Show 8 readings' }).waitFor()
    await dialog.getByRole('button', { name: 'Exposure sweep' }).click()
    await dialog.getByRole('button', { name: /^Show \d+ reading/ }).waitFor()
    await dialog.getByLabel(/^Not below/).fill('not a number')
    await clean(page)
    await dialog.getByRole('button', { name: 'Exposure sweep' }).click()
    await dialog.getByLabel(/^Not below/).fill('900')
    // 900 °C are 1173.15 K.
    const hits = readings(40).filter((reading) => {
      const { object } = reading
      const result = currentResult(reading)
      return object === 'Chisel' && result.kind === 'temperature' && result.temperatureK >= 1173.15
    }).length
    await dialog.getByRole('button', { name: new RegExp(`^Show ${hits} reading`) }).click()
    await expect.poll(() => rowTexts(page)).toHaveLength(hits)

    await page.getByRole('button', { name: 'from 900 °C, remove' }).click()
    await expect.poll(() => count(page)).toBe('8 readings')
    await page.getByRole('button', { name: 'Chisel, remove' }).click()
    await expect.poll(() => count(page)).toBe('40 readings')
  })

  test('the list comes back as it was left, by the app’s and the browser’s way back', async ({
    visit,
  }) => {
    const page = await visit('/log')
    await importReadings(page, readings(60))
    await page.getByRole('searchbox').fill('e')
    // The reminder of a backup comes a little later and moves the list.
    await page.getByText(/on this device only/).waitFor()
    await page.evaluate(() => scrollTo(0, 1500))
    await expect.poll(() => page.evaluate(() => scrollY)).toBe(1500)
    // Where a row stands in the window: what comes and goes above the list does not matter.
    const row = page.locator('.log_log-row', { hasText: '07:40' })
    const place = () => row.evaluate((one) => Math.round(one.getBoundingClientRect().top))
    const left = await place()
    // A row in sight: one above the window would be scrolled to before the touch, and the list left there.
    const opened = page.locator('.log_log-row', { hasText: '06:10' })
    for (const back of ['link', 'browser'] as const) {
      await opened.click()
      await page.locator('main.entry').waitFor()
      if (back === 'link') await page.getByRole('link', { name: 'Back', exact: true }).click()
      else await page.goBack()
      await row.waitFor()
      await expect.poll(place).toBe(left)
      expect(await page.getByRole('searchbox').inputValue()).toBe('e')
    }
  })
})

describe('choosing', () => {
  test('two readings side by side, the mean of some, delete with undo', async ({ visit }) => {
    const page = await visit('/log')
    await importReadings(page, readings(12))
    const rows = page.locator('.log_log-row')
    await page.getByRole('button', { name: 'Select' }).click()
    await rows.nth(0).click()
    expect(await page.getByRole('button', { name: 'Compare' }).isDisabled()).toBe(true)
    await rows.nth(1).click()
    await rows.nth(2).click()
    await page.getByRole('button', { name: 'Compare' }).click()
    await page.getByText('Compare takes two readings.').waitFor()
    await rows.nth(2).click()
    await clean(page)

    await page.getByRole('button', { name: 'Mean' }).click()
    await page.getByRole('heading', { name: 'Mean of 2 readings' }).waitFor()
    await clean(page)
    await page.getByRole('dialog').getByRole('button', { name: 'Done' }).click()

    await page.getByRole('button', { name: 'Compare' }).click()
    await page.locator('.log_pair-sides').waitFor()
    expect(await page.locator('main.log_log h2').first().textContent()).toMatch(
      /hotter|The same within/,
    )
    await clean(page)
    await page.getByRole('link', { name: 'Back', exact: true }).click()

    await page.getByRole('button', { name: 'All', exact: true }).click()
    await page.getByText('12 readings chosen').waitFor()
    await page.getByRole('button', { name: 'Delete' }).click()
    await page.getByText('12 readings deleted.').waitFor()
    await page.getByText('Nothing here yet').waitFor()
    await page.getByRole('button', { name: 'Undo' }).click()
    await expect.poll(() => count(page)).toBe('12 readings')
  })

  test('what was deleted can be brought back later', async ({ visit }) => {
    const page = await visit('/log')
    await importReadings(page, readings(2))
    await page.locator('.log_log-row').first().click()
    await page.getByRole('button', { name: 'Delete' }).click()
    await expect.poll(() => count(page)).toBe('1 reading')
    await page.reload()
    await lead(page, '/log/keeping')
    await page.getByText('Deleted lately (1)').click()
    await clean(page)
    await page.getByRole('button', { name: 'Bring back' }).click()
    // The row goes when it is on disk: leaving before that would break it off.
    await page.getByRole('button', { name: 'Bring back' }).waitFor({ state: 'detached' })
    await lead(page, '/log')
    await expect.poll(() => count(page)).toBe('2 readings')
  })
})

describe('trouble', () => {
  test('a log that the browser has cleared is told, until it was read', async ({ visit }) => {
    const page = await visit('/log')
    await importReadings(page, readings(3))
    // No page of the app stands: its workers let go of their files a moment after it has gone.
    await page.goto('/icons/glowbook.svg')
    await page.evaluate(async () => {
      const request = indexedDB.deleteDatabase('glowbook')
      await new Promise((resolve) => {
        request.onsuccess = resolve
      })
    })
    // The second copy too: what is cleared whole cannot be put back.
    const cleared = () =>
      page.evaluate(async () => {
        const files = await navigator.storage.getDirectory()
        return files.removeEntry('glowbook journal', { recursive: true }).then(
          () => '',
          (error: DOMException) => error.name,
        )
      })
    await expect.poll(cleared).toMatch(/^$|NotFoundError/)
    // Told wherever the app is opened, and in full one tap from there.
    await page.goto('/')
    await page.getByText('The log was lost, all or in part.').waitFor()
    await page.getByRole('button', { name: 'See', exact: true }).click()
    await page.getByText('3 readings that were here are gone').waitFor()
    await clean(page)
    await page.getByRole('button', { name: 'I have read this' }).click()
    await expect.poll(() => page.getByText('that were here are gone').count()).toBe(0)
  })

  test('a newer version in another tab is told here', async ({ visit }) => {
    const page = await visit('/log')
    await importReadings(page, readings(1))
    await page.evaluate(async () => {
      const request = indexedDB.open('glowbook', 1000)
      await new Promise((resolve) => {
        request.onsuccess = resolve
      })
      request.result.close()
    })
    await page.getByText('A newer version runs in another tab').waitFor()
    await page.getByRole('button', { name: 'Reload' }).click()
    await page.getByText('The log was written by a newer version of this app').waitFor()
  })

  test('an old tab in the way is told, and the log opens when that is closed', async ({
    visit,
    context,
    watch,
  }) => {
    // A page without the app asks for its icon.
    watch.allow(/404/)
    const old = await context.newPage()
    // Any page of the same origin without the app: it does not give way as the app would.
    await old.goto('/third-party.txt')
    await old.evaluate(async () => {
      const request = indexedDB.open('glowbook', 1)
      request.onupgradeneeded = () => {
        for (const store of ['readings', 'pictures', 'kit']) {
          request.result.createObjectStore(store, { keyPath: 'id' })
        }
      }
      await new Promise((resolve) => {
        request.onsuccess = resolve
      })
    })
    const page = await visit('/log')
    await page.getByText(/Another tab holds the log open/).waitFor()
    await old.close()
    await page.getByText('Nothing here yet').waitFor()
  })

  test('what another tab saves appears here', async ({ visit }) => {
    const here = await visit('/log')
    await importReadings(here, readings(1))
    const there = await visit('/log/by-hand')
    await there.getByLabel(/^Temperature/).fill('700')
    await there.getByLabel(/^±/).fill('10')
    await there.getByLabel('Object').fill('From the other tab')
    await there.getByRole('button', { name: 'Save reading' }).click()
    await there.locator('main.entry .temperature').waitFor()
    await expect.poll(() => count(here)).toBe('2 readings')
    expect((await rowTexts(here)).join()).toContain('From the other tab')
  })
})
