import { readdir, readFile, rename, writeFile } from 'node:fs/promises'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import { appByHand } from '../journeys/app-by-hand.ts'
import { practicePhoto, saveReading } from '../journeys/steps.ts'
import { buildOf, newerPage, withChangedBuild } from './changed-build.ts'
import { cachedForOffline, draftNotes, expect, lead, standing, test } from './harness.ts'

/** Nothing fails in silence: each way is broken on purpose, and what the person sees is looked at. */

test('an address that cannot be read leaves the app standing', async ({ visit }) => {
  for (const place of ['/log/%', '/kit/100%', '/log/series%2F%E0%A4%A', '/reading/%ff']) {
    const page = await visit(place)
    await page.getByRole('link', { name: 'Chart', exact: true }).waitFor()
    await page.close()
  }
})

/** A newer build whose every script has another name, as after any real change. */
async function newerNames(folder: string): Promise<void> {
  await newerPage(folder)
  const assets = join(folder, 'assets')
  const names = (await readdir(assets)).filter((name) => /-[\w-]{8}\.(js|css)$/.test(name))
  const renamed = (name: string) => name.replace(/-([\w-]{8})\./, '-n$1.')
  const texts = [
    join(folder, 'index.html'),
    join(folder, 'service-worker.js'),
    ...names.map((name) => join(assets, name)),
  ]
  for (const file of texts) {
    let text = await readFile(file, 'utf8')
    for (const name of names) text = text.replaceAll(name, renamed(name))
    await writeFile(file, text)
  }
  for (const name of names) await rename(join(assets, name), join(assets, renamed(name)))
}

describe('kept for offline use', () => {
  test.override({ offlineUse: true })
  test('a screen whose file an update has taken away says so, and a reload brings it', async ({
    visit,
    site,
    watch,
  }) => {
    watch.allow(
      /Failed to load resource/,
      /Failed to fetch dynamically imported module/,
      /Refused to apply style/,
    )
    const page = await visit()
    await cachedForOffline(page)
    const other = await visit()
    await withChangedBuild(site, newerNames, async () => {
      await page.evaluate(async () => {
        const registration = await navigator.serviceWorker.ready
        await registration.update()
        while (registration.waiting === null) await new Promise((done) => setTimeout(done, 50))
      })
      await page.getByRole('button', { name: 'Update now' }).click()
      await expect.poll(() => buildOf(page)).toContain('newer')
      const session = await other.context().newCDPSession(other)
      await session.send('Network.clearBrowserCache')
      await other.getByRole('link', { name: 'Chart', exact: true }).click()
      await other.getByText('This part of the app could not be loaded').waitFor()
      await other.getByRole('button', { name: 'Reload' }).click()
      await other.locator('h1:visible').waitFor()
      expect(await buildOf(other)).toContain('newer')
      expect(await other.getByText('could not be loaded').count()).toBe(0)
    })
  })
})

test('what did not come for want of a network is told, and comes at another try', async ({
  context,
  visit,
  watch,
}) => {
  watch.allow(/Failed to load resource/, /Failed to fetch dynamically imported module/)
  // From the first moment: what a page fetches ahead of its use is in its memory.
  const gone = /(chart-screen|by-hand-screen|filter-dialog|demo)-[\w-]+\.js/
  await context.route(gone, (route) => route.abort())
  const page = await visit()
  const told = page.getByText('This part of the app could not be loaded')
  // A screen of the app, a screen behind the log's list, work from a button, a dialog.
  await page.getByRole('link', { name: 'Chart', exact: true }).click()
  await told.waitFor()
  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await page.getByRole('link', { name: 'By hand' }).click()
  await told.waitFor()
  await context.unroute(gone)
  await page.getByRole('button', { name: 'Try again' }).click()
  await page.getByRole('heading', { name: 'By hand' }).waitFor()
  expect(await told.count()).toBe(0)
  await context.route(gone, (route) => route.abort())
  await lead(page, '/log')
  const load = page.getByRole('button', { name: 'Load the made-up workshop' })
  await load.click()
  await told.waitFor()
  await context.unroute(gone)
  await load.click()
  await page.locator('.log_log-row').first().waitFor()
  await page.getByRole('button', { name: 'Close this message' }).click()
  await context.route(gone, (route) => route.abort())
  await page.getByRole('button', { name: 'Filter', exact: true }).click()
  await told.waitFor()
  await context.unroute(gone)
  await page.getByRole('button', { name: 'Try again' }).click()
  await page.getByRole('dialog').waitFor()
})

test('workers that die leave no figure standing and no save hanging', async ({ context, site }) => {
  const page = await context.newPage()
  // Every worker is in reach, to be ended as a phone short of memory ends them.
  await page.addInitScript(() => {
    const Real = globalThis.Worker
    const made: Worker[] = []
    Object.assign(globalThis, { made })
    globalThis.Worker = class extends Real {
      constructor(url: string | URL, options?: WorkerOptions) {
        super(url, options)
        made.push(this)
      }
    }
  })
  await page.goto(site.url)
  await standing(page)
  await practicePhoto(appByHand(page))
  await page.evaluate(() => {
    const { made } = globalThis as unknown as { made: Worker[] }
    // Without a word, as a browser may end them: no event comes.
    for (const worker of made) worker.terminate()
  })
  // The worker of the second copy is among them; the first copy is made.
  await saveReading(appByHand(page))
  await page.getByRole('application').focus()
  await page.keyboard.press('ArrowUp')
  await page.getByText('The photo could not be read').first().waitFor()
  await page.getByText('No figure.', { exact: true }).waitFor()
  await expect.poll(() => page.locator('.temperature .value').count()).toBe(0)
  expect(await page.getByRole('button', { name: 'Save reading' }).isDisabled()).toBe(true)
})

test('name and notes that were typed survive a reload, and not a new photo', async ({ visit }) => {
  const page = await visit()
  await practicePhoto(appByHand(page))
  await page.getByRole('button', { name: /Name, notes/ }).click()
  await page.getByLabel('Object').fill('forge bar')
  await page.getByRole('textbox', { name: 'Notes' }).fill('second heat')
  await page.reload()
  await page.locator('.temperature .value').waitFor()
  await page.getByRole('button', { name: 'forge bar' }).click()
  expect(await page.getByRole('textbox', { name: 'Notes' }).inputValue()).toBe('second heat')
})

test('what was typed into the forms of other screens survives a reload too', async ({ visit }) => {
  const page = await visit('/kit/lamp')
  const lamp = page.getByLabel('Name of the lamp')
  await lamp.fill('Bench lamp')
  await page.reload()
  await expect.poll(() => lamp.inputValue()).toBe('Bench lamp')
  await lead(page, '/safety')
  await page.getByRole('button', { name: /Forge and torch/ }).click()
  const check = page.getByLabel('A check of your own')
  await check.fill('Vice bolted down')
  await page.reload()
  await expect.poll(() => check.inputValue()).toBe('Vice bolted down')
  // It is sent once, and not offered again.
  await page.getByRole('button', { name: 'Add', exact: true }).click()
  await page.getByText('Vice bolted down').waitFor()
  await page.reload()
  await page.getByText('Vice bolted down').waitFor()
  expect(await check.inputValue()).toBe('')
})

/** Unsaved photos of all tabs that are stored. */
const storedPhotos = (page: Page) =>
  page.evaluate(async () => {
    const all = await Promise.all(
      (await caches.keys()).map(async (name) => (await caches.open(name)).match('/in-hand/photo')),
    )
    return all.filter(Boolean).length
  })

test('each tab has its own unsaved work', async ({ visit }) => {
  const one = await visit()
  await practicePhoto(appByHand(one))
  const two = await visit()
  await two.waitForTimeout(300)
  // The first tab's photo is not taken up by the second.
  expect(await two.locator('.temperature .value').count()).toBe(0)
  await practicePhoto(appByHand(two))
  await expect.poll(() => storedPhotos(two)).toBe(2)
  await two.getByRole('button', { name: 'New photo' }).click()
  await expect.poll(() => storedPhotos(two)).toBe(1)
  await one.reload()
  await one.locator('.temperature .value').waitFor()
  await two.reload()
  await standing(two)
  await two.waitForTimeout(300)
  expect(await two.locator('.temperature .value').count()).toBe(0)
})

test('work of a tab that was closed by mistake is there in the next one', async ({
  visit,
  context,
}) => {
  const one = await visit()
  const two = await visit()
  await practicePhoto(appByHand(two))
  // Photo and choices are stored behind the figure; a tab that is closed before has nothing to leave.
  await expect.poll(() => storedPhotos(two)).toBe(1)
  await expect.poll(() => draftNotes(two)).not.toBe('')
  await two.close()
  const again = await context.newPage()
  await again.goto('/')
  await again.locator('.temperature .value').waitFor()
  await one.close()
})

describe('kept for offline use, then dropped', () => {
  test.override({ offlineUse: true })
  test('caches that the browser has dropped are filled again', async ({ visit, site }) => {
    const page = await visit()
    await cachedForOffline(page)
    await page.evaluate(async () => {
      for (const name of await caches.keys()) await caches.delete(name)
    })
    await page.reload()
    await standing(page)
    await expect
      .poll(() =>
        page.evaluate(async () => {
          const name = (await caches.keys()).find((key) => key.includes('precache'))
          return name === undefined ? 0 : (await (await caches.open(name)).keys()).length
        }),
      )
      .toBeGreaterThan(50)
    await site.down()
    await page.reload()
    await standing(page)
    await page.getByRole('link', { name: 'Chart', exact: true }).click()
    await page.locator('h1:visible').waitFor()
  })
})

test('a log that the browser has deleted is told as such, and a reload puts it back', async ({
  visit,
}) => {
  const page = await visit()
  await practicePhoto(appByHand(page))
  await saveReading(appByHand(page))
  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await page.locator('.log_log-row').first().waitFor()
  await page.evaluate(() => {
    indexedDB.deleteDatabase('glowbook')
  })
  await page.getByText('The browser has deleted the log while it was open').waitFor()
  await page.reload()
  await page.locator('.log_log-row').first().waitFor()
  await page.getByText('The log was lost and has been put back').waitFor()
  await page.getByRole('button', { name: 'I have read this' }).click()
  await page.reload()
  await page.locator('.log_log-row').first().waitFor()
  expect(await page.getByText('put back').count()).toBe(0)
})
