import { readFileSync } from 'node:fs'
import { unzipSync } from 'fflate'
import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import type { Reading } from '../../src/log/types.ts'
import { axe, expect, keptForOffline, smallTargets, test } from './harness.ts'
import { madeUpReading } from './log-page/made-up.ts'

/** The log as a person uses it, in the built app. */

const OBJECTS = ['Anvil', 'Bolt 7', 'Chisel', 'Furnace', 'Girder']

/** Readings of five objects; what they rest on is left out. */
const readings = (count: number, change: (n: number) => Partial<Reading> = () => ({})): Reading[] =>
  Array.from({ length: count }, (_, n) => {
    const made = madeUpReading(n)
    return { ...made, object: OBJECTS[n % 5]!, inputs: null, details: null, ...change(n) }
  })

const fileOf = (some: readonly unknown[], name = 'log.json') => ({
  name,
  mimeType: 'application/json',
  buffer: Buffer.from(
    JSON.stringify({ schema: 'glowbook-log', version: 2, readings: some, kit: [] }),
  ),
})

async function bring(page: Page, some: readonly Reading[]): Promise<void> {
  await page.goto('/log/keeping')
  await page.locator('main.log input[type=file]').setInputFiles(fileOf(some))
  await page.getByRole('button', { name: 'Bring it in' }).click()
  await page.getByText(/^Brought in/).waitFor()
  await page.getByRole('link', { name: 'Back', exact: true }).click()
  await page.locator('.log-row').first().waitFor()
}

/** What the header says: "12 readings". */
const count = (page: Page) => page.locator('main.log > header > .soft').textContent()
const rowTexts = (page: Page) => page.locator('.log-row').allTextContents()
const fits = async (page: Page) =>
  (await page.evaluate(() => document.documentElement.scrollWidth)) <= 390

async function clean(page: Page): Promise<void> {
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  expect(await fits(page)).toBe(true)
}

describe('finding', () => {
  test('by words and filters, each taken away by a touch', async ({ visit }) => {
    const page = await visit('/log')
    await bring(page, readings(40))
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
    const hits = readings(40).filter(({ object, result }) => {
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
    await bring(page, readings(60))
    await page.getByRole('searchbox').fill('e')
    // The reminder of a backup comes a little later and moves the list.
    await page.getByText(/on this device only/).waitFor()
    await page.evaluate(() => scrollTo(0, 1500))
    await expect.poll(() => page.evaluate(() => scrollY)).toBe(1500)
    for (const back of ['link', 'browser'] as const) {
      await page.locator('.log-row').nth(12).click()
      await page.locator('main.entry').waitFor()
      if (back === 'link') await page.getByRole('link', { name: 'Back', exact: true }).click()
      else await page.goBack()
      await page.locator('.log-row').first().waitFor()
      await expect.poll(() => page.evaluate(() => scrollY)).toBe(1500)
      expect(await page.getByRole('searchbox').inputValue()).toBe('e')
    }
  })
})

describe('choosing', () => {
  test('two readings side by side, the mean of some, delete with undo', async ({ visit }) => {
    const page = await visit('/log')
    await bring(page, readings(12))
    const rows = page.locator('.log-row')
    await page.getByRole('button', { name: 'Select' }).click()
    await rows.nth(0).click()
    expect(await page.getByRole('button', { name: 'Compare' }).isDisabled()).toBe(true)
    await rows.nth(1).click()
    await clean(page)

    await page.getByRole('button', { name: 'Mean' }).click()
    await page.getByRole('heading', { name: 'Mean of 2 readings' }).waitFor()
    await clean(page)
    await page.getByRole('dialog').getByRole('button', { name: 'Done' }).click()

    await page.getByRole('button', { name: 'Compare' }).click()
    await page.locator('.two').waitFor()
    expect(await page.locator('main.log h2').first().textContent()).toMatch(
      /hotter|No difference shown/,
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
    await bring(page, readings(2))
    await page.locator('.log-row').first().click()
    await page.getByRole('button', { name: 'Delete' }).click()
    await expect.poll(() => count(page)).toBe('1 reading')
    await page.reload()
    await page.goto('/log/keeping')
    await page.getByText('Deleted lately (1)').click()
    await clean(page)
    await page.getByRole('button', { name: 'Bring back' }).click()
    // The row goes when it is on disk: leaving before that would break it off.
    await page.getByRole('button', { name: 'Bring back' }).waitFor({ state: 'detached' })
    await page.goto('/log')
    await expect.poll(() => count(page)).toBe('2 readings')
  })
})

describe('one reading', () => {
  test('is corrected, and keeps its former values', async ({ visit }) => {
    const page = await visit('/log')
    await bring(
      page,
      readings(1, () => ({ object: 'Bar', supply: null })),
    )
    await page.locator('.log-row').click()
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
    await page.getByRole('button', { name: /Practice photo/ }).click()
    await page.locator('.temperature .value').waitFor()
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

  test('opens by its address with the network gone', async ({ visit, site, context }) => {
    const page = await visit('/log')
    await keptForOffline(page)
    const [one] = readings(1, () => ({ object: 'Far bar' }))
    await bring(page, [one!])
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

  test('that is damaged is kept as it lies, with its text to take away', async ({ visit }) => {
    const page = await visit('/log')
    const [one] = readings(1)
    await bring(page, [one!])
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
    await page.goto(`/log/${one!.id}`)
    await page.getByText('This record is damaged').waitFor()
    expect(await page.locator('pre').textContent()).toContain(one!.object)
    await clean(page)
    const [download] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Take the text away' }).click(),
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
    await bring(
      page,
      readings(8, (n) => ({ object: 'Coil', supply: supply(n) })),
    )
    await page.getByRole('link', { name: 'Series' }).click()
    await page.locator('.u-over').waitFor()
    expect(await page.getByRole('button', { name: 'Watts' }).count()).toBe(0)
    await page.getByRole('button', { name: 'Volts' }).click()
    await page.getByRole('img', { name: 'Coil: temperature against volts' }).waitFor()
    await page.getByText('Numbers', { exact: true }).click()
    await expect.poll(() => page.locator('.plot-table').textContent()).toContain('170')
    await clean(page)

    await page.emulateMedia({ media: 'print' })
    expect(await page.getByRole('navigation').isVisible()).toBe(false)
    expect(await page.locator('.print-only .numbers-table tbody tr').count()).toBe(8)
    await page.emulateMedia({ media: null })
  })
})

describe('files', () => {
  test('the log leaves as a ZIP and as a table, and the backup is remembered', async ({
    visit,
  }) => {
    const page = await visit('/log')
    await bring(
      page,
      readings(25, () => ({ notes: '=1+1' })),
    )
    await page.getByRole('link', { name: /25 on this device only/ }).click()
    await page.getByText('none yet').waitFor()
    await clean(page)
    const take = async (format: string) => {
      await page.getByRole('button', { name: format, exact: true }).click()
      await page.getByRole('button', { name: 'Make the file' }).click()
      const [download] = await Promise.all([
        page.waitForEvent('download'),
        page.getByRole('button', { name: 'Save it' }).click(),
      ])
      await page.getByRole('button', { name: 'Another file' }).click()
      return readFileSync(await download.path())
    }
    const table = (await take('CSV')).toString('utf8')
    expect(table.split('\r\n')).toHaveLength(27)
    expect(table).toContain("'=1+1")
    await page.getByText('none yet').waitFor()

    const parts = unzipSync(await take('ZIP'))
    const log = Object.entries(parts).find(([name]) => /log.*\.json$/.test(name))
    expect(JSON.parse(Buffer.from(log![1]).toString('utf8')).readings).toHaveLength(25)
    await expect.poll(() => page.getByText('none yet').count()).toBe(0)
    await page.goto('/log')
    await page.locator('.log-row').first().waitFor()
    expect(await page.getByText(/on this device only/).count()).toBe(0)
  })

  test('a file is looked at before anything changes; where it differs, the person chooses', async ({
    visit,
  }) => {
    const page = await visit('/log')
    await bring(page, readings(6))
    const changed = readings(8, (n) => (n < 2 ? { notes: 'from the other phone' } : {}))
    await page.goto('/log/keeping')
    const input = page.locator('main.log input[type=file]')
    await input.setInputFiles(fileOf(changed))
    await page.getByRole('button', { name: 'Bring it in' }).waitFor()
    const seen = async () => (await page.locator('.numbers-table').textContent()) ?? ''
    expect(await seen()).toMatch(/New2The same here4Changed here or there2/)
    await clean(page)
    await page.getByLabel(/Take the file’s/).check()
    await page.getByRole('button', { name: 'Bring it in' }).click()
    await page.getByText('Brought in: 2 added, 2 changed, 4 left as they were.').waitFor()
    await page.goto('/log')
    await page.getByRole('searchbox').fill('other phone')
    await expect.poll(() => count(page)).toBe('2 readings')
  })

  test('a hostile or foreign file is refused in words, and nothing changes', async ({ visit }) => {
    const page = await visit('/log')
    await bring(page, readings(3))
    await page.goto('/log/keeping')
    const input = page.locator('main.log input[type=file]')
    const good = readings(1)[0]!
    const files = [
      { name: 'holiday.json', mimeType: 'application/json', buffer: Buffer.from('{"a":1}') },
      { name: 'cut.zip', mimeType: 'application/zip', buffer: Buffer.from('PK\u0003\u0004 cut') },
      fileOf([{ ...good, id: '__proto__' }]),
      fileOf([{ ...good, result: { ...good.result, temperatureK: 'hot' } }]),
    ]
    for (const file of files) {
      await input.setInputFiles(file)
      await page.locator('.notice.stop').waitFor()
      expect(await page.locator('.notice.stop').textContent()).toMatch(/log is as it was/)
      await page.goto('/log')
      await expect.poll(() => count(page)).toBe('3 readings')
      await page.goto('/log/keeping')
    }
  })

  test('the log is emptied only with a typed word, a backup offered first', async ({ visit }) => {
    const page = await visit('/log')
    await bring(page, readings(3))
    await page.goto('/log/keeping')
    await page.locator('summary', { hasText: 'Empty the log' }).click()
    await page.getByRole('button', { name: 'Make a backup first' }).waitFor()
    const go = page.getByRole('button', { name: 'Empty the log' })
    expect(await go.isDisabled()).toBe(true)
    await page.getByLabel(/^Type/).fill('Empty')
    await go.click()
    await page.getByText('The log is empty.').waitFor()
    await page.goto('/log')
    await page.getByText('Nothing here yet').waitFor()
    await clean(page)
  })

  test('a made-up workshop comes and goes with one touch, labelled', async ({ visit }) => {
    const page = await visit('/log')
    await page.getByRole('button', { name: 'Load the made-up workshop' }).click()
    await page.locator('.log-row').first().waitFor()
    expect(await page.locator('.log-row').first().textContent()).toContain('Made up')
    await clean(page)
    await page.goto('/log/keeping')
    await page.getByRole('button', { name: /Remove the made-up workshop/ }).click()
    await page.getByText(/of the made-up workshop removed/).waitFor()
    await page.goto('/log')
    await page.getByText('Nothing here yet').waitFor()
  })
})

describe('trouble', () => {
  test('a log that the browser has cleared is told, until it was read', async ({ visit }) => {
    const page = await visit('/log')
    await bring(page, readings(3))
    await page.goto('/safety')
    await page.evaluate(async () => {
      const request = indexedDB.deleteDatabase('glowbook')
      await new Promise((resolve) => {
        request.onsuccess = resolve
      })
    })
    await page.goto('/log')
    await page.getByText('3 readings that were here are gone').waitFor()
    await clean(page)
    await page.getByRole('button', { name: 'I have read this' }).click()
    await expect.poll(() => page.getByText('that were here are gone').count()).toBe(0)
  })

  test('a newer version in another tab is told here', async ({ visit }) => {
    const page = await visit('/log')
    await bring(page, readings(1))
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
    await bring(here, readings(1))
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
