import { readFileSync } from 'node:fs'
import { unzipSync } from 'fflate'
import { describe } from 'vitest'
import { expect, lead, test } from './harness.ts'
import { clean, count, fileOf, importReadings, readings } from './log-steps.ts'

/** The log leaving as a file and coming back, in the built app. */

describe('files', () => {
  test('the log leaves as a ZIP and as a table, and the backup is remembered', async ({
    visit,
  }) => {
    const page = await visit('/log')
    await importReadings(
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
    await lead(page, '/log')
    await page.locator('.log_log-row').first().waitFor()
    expect(await page.getByText(/on this device only/).count()).toBe(0)

    // A file chosen once is kept up to date. No dialog of the system opens here: a file of the private
    // file system stands for it, with the same handle.
    await page.addInitScript(() => {
      Object.assign(globalThis, {
        showSaveFilePicker: async () =>
          (await navigator.storage.getDirectory()).getFileHandle('kept.zip', { create: true }),
      })
    })
    await page.goto('/log/keeping')
    await page.getByRole('button', { name: 'Keep a backup file up to date' }).click()
    await page.getByText(/holds all there is/).waitFor()
    await clean(page)
    const kept = await page.evaluate(async () => {
      const root = await navigator.storage.getDirectory()
      const file = await (await root.getFileHandle('kept.zip')).getFile()
      return [...new Uint8Array(await file.arrayBuffer())]
    })
    expect(Object.keys(unzipSync(Uint8Array.from(kept))).join()).toMatch(/log.*\.json/)
    // The handle is remembered: after a reload it is still the file that is written.
    await page.reload()
    await page.getByText(/holds all there is/).waitFor()
  })

  test('a file is looked at before anything changes; where it differs, the person chooses', async ({
    visit,
  }) => {
    const page = await visit('/log')
    await importReadings(page, readings(6))
    const changed = readings(8, (n) => (n < 2 ? { notes: 'from the other phone' } : {}))
    await lead(page, '/log/keeping')
    const input = page.locator('main.log_log input[type=file]')
    await input.setInputFiles(fileOf(changed))
    await page.getByRole('button', { name: 'Import it' }).waitFor()
    const seen = async () => (await page.locator('.numbers-table').textContent()) ?? ''
    expect(await seen()).toMatch(/New2The same here4Changed here or there2/)
    await clean(page)
    await page.getByLabel(/Take the file’s/).check()
    await page.getByRole('button', { name: 'Import it' }).click()
    await page.getByText('Imported: 2 added, 2 changed, 4 left as they were.').waitFor()
    await lead(page, '/log')
    await page.getByRole('searchbox').fill('other phone')
    await expect.poll(() => count(page)).toBe('2 readings')
  })

  test('a hostile or foreign file is refused in words, and nothing changes', async ({ visit }) => {
    const page = await visit('/log')
    await importReadings(page, readings(3))
    await lead(page, '/log/keeping')
    const input = page.locator('main.log_log input[type=file]')
    const good = readings(1)[0]!
    const manyNames = Object.fromEntries(Array.from({ length: 300_000 }, (_, i) => [`k${i}`, 1]))
    const files = [
      { name: 'holiday.json', mimeType: 'application/json', buffer: Buffer.from('{"a":1}') },
      { name: 'cut.zip', mimeType: 'application/zip', buffer: Buffer.from('PK\u0003\u0004 cut') },
      fileOf([{ ...good, id: '__proto__' }]),
      // Seconds of work, were it parsed.
      fileOf([{ ...good, inputs: manyNames }]),
      fileOf([{ ...good, result: { ...good.result, temperatureK: 'hot' } }]),
    ]
    // A file that its worker never comes to the end of: the page answers, and Stop leaves all as it was.
    await page.route(/content\.worker/, () => {})
    await input.setInputFiles(fileOf(readings(4)))
    await page.getByRole('button', { name: 'Stop' }).click()
    await page.getByRole('button', { name: 'Stop' }).waitFor({ state: 'detached' })
    await page.unroute(/content\.worker/)
    await lead(page, '/log')
    await expect.poll(() => count(page)).toBe('3 readings')
    await lead(page, '/log/keeping')
    for (const file of files) {
      await input.setInputFiles(file)
      await page.locator('.notice.stop').waitFor()
      expect(await page.locator('.notice.stop').textContent()).toMatch(/log is as it was/)
      await lead(page, '/log')
      await expect.poll(() => count(page)).toBe('3 readings')
      await lead(page, '/log/keeping')
    }
    await page.goto('/log')
    await expect.poll(() => count(page)).toBe('3 readings')
  })

  test('the log is emptied only with a typed word, a backup offered first', async ({ visit }) => {
    const page = await visit('/log')
    await importReadings(page, readings(3))
    await lead(page, '/log/keeping')
    await page.locator('summary', { hasText: 'Empty the log' }).click()
    await page.getByRole('button', { name: 'Make a backup first' }).waitFor()
    const go = page.getByRole('button', { name: 'Empty the log' })
    expect(await go.isDisabled()).toBe(true)
    await page.getByLabel(/^Type/).fill('Empty')
    await go.click()
    await page.getByText('The log is empty.').waitFor()
    await lead(page, '/log')
    await page.getByText('Nothing here yet').waitFor()
    await clean(page)
  })

  test('a made-up workshop comes and goes with one touch, labelled', async ({ visit }) => {
    const page = await visit('/log')
    await page.getByRole('button', { name: 'Load the made-up workshop' }).click()
    await page.locator('.log_log-row').first().waitFor()
    expect(await page.locator('.log_log-row').first().textContent()).toContain('Made up')
    await clean(page)
    await lead(page, '/log/keeping')
    await page.getByRole('button', { name: /Remove the made-up workshop/ }).click()
    await page.getByText(/of the made-up workshop removed/).waitFor()
    await lead(page, '/log')
    await page.getByText('Nothing here yet').waitFor()
  })
})
