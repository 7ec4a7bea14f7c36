import { readFileSync, statSync } from 'node:fs'
import { join } from 'node:path'
import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import { practiceSpectra } from '../../src/sources/practice/practice-spectra.ts'
import { screenOnShow } from './browser.ts'
import { test as base, builtApp, cachedForOffline, expect, places, standing } from './harness.ts'

const test = base.extend({ offlineUse: true })

describe('with the server gone', () => {
  test('a reload brings the app back, isolated, every screen by its address, and the licences', async ({
    visit,
    site,
    context,
  }) => {
    const page = await visit()
    await cachedForOffline(page)
    await installable(page)
    await site.down()
    await page.reload()
    await standing(page)
    expect(await page.evaluate(() => globalThis.crossOriginIsolated)).toBe(true)
    // A new tab by a deep link with a query.
    const second = await context.newPage()
    await second.goto('/log?from=elsewhere')
    await standing(second)
    await second.close()
    for (const place of places) {
      await page.goto(place)
      await standing(page)
      expect(new URL(page.url()).pathname).toBe(place)
      await expect.poll(() => page.locator(`${screenOnShow} h1`).count()).toBe(1)
    }
    await page.goto('/kit')
    // Read, not opened: for a page of text the browser asks the server for an icon that is not there.
    const licences = await page
      .getByRole('link', { name: /Software of others/ })
      .evaluate(async (link: HTMLAnchorElement) => (await fetch(link.href)).text())
    expect(licences).toContain('GNU LESSER GENERAL PUBLIC LICENSE')
  })
})

/** The browser itself finds no fault with the manifest. */
async function installable(page: Page): Promise<void> {
  const session = await page.context().newCDPSession(page)
  const { errors } = await session.send('Page.getAppManifest')
  expect(errors).toEqual([])
  const { installabilityErrors } = await session.send('Page.getInstallabilityErrors')
  // Contexts of tests are like private windows, which install nothing; no other fault is allowed.
  const faults = installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')
  expect(faults).toEqual([])
}

describe('what the system needs to install the app', () => {
  // Criteria from the W3C Web Application Manifest and what Chromium asks for (common practice).
  const manifest = JSON.parse(readFileSync(join(builtApp, 'manifest.webmanifest'), 'utf8'))

  test('the manifest says where the app starts and how it stands', () => {
    expect(manifest).toMatchObject({
      name: 'Glowbook',
      start_url: '/',
      scope: '/',
      display: 'standalone',
    })
  })

  test('every picture that the manifest names is there in the size that it names', () => {
    const pictures = [...manifest.icons, ...(manifest.screenshots ?? [])] as {
      src: string
      sizes: string
      type: string
    }[]
    for (const { src, sizes, type } of pictures) {
      const file = join(builtApp, src)
      expect(statSync(file).isFile()).toBe(true)
      if (type !== 'image/png') continue
      // PNG, 11.2.2: width and height are the first two 32-bit numbers of the first chunk.
      const bytes = readFileSync(file)
      expect(`${bytes.readUInt32BE(16)}x${bytes.readUInt32BE(20)}`, src).toBe(sizes)
    }
    const sizes = pictures.map((picture) => picture.sizes)
    expect(sizes).toEqual(expect.arrayContaining(['192x192', '512x512']))
    expect(manifest.icons.some((icon: { purpose?: string }) => icon.purpose === 'maskable')).toBe(
      true,
    )
  })
})

interface SharedFile {
  readonly name: string
  readonly type: string
  /** Its text, or the address it is fetched from. */
  readonly text?: string
  readonly from?: string
}

/** What the system does with the share_target of the manifest: a form with the files, posted. */
const share = (page: Page, fields: Record<string, readonly SharedFile[]>) =>
  page.evaluate(async (given) => {
    const form = document.createElement('form')
    Object.assign(form, { method: 'post', action: '/share', enctype: 'multipart/form-data' })
    for (const [field, files] of Object.entries(given)) {
      const held = new DataTransfer()
      for (const { name, type, text, from } of files) {
        const content = from === undefined ? (text ?? '') : await (await fetch(from)).blob()
        held.items.add(new File([content], name, { type }))
      }
      const input = document.createElement('input')
      Object.assign(input, { type: 'file', multiple: true, name: field, files: held.files })
      form.append(input)
    }
    document.body.append(form)
    form.submit()
  }, fields)

const waitingShares = (page: Page) =>
  page.evaluate(async () => (await (await caches.open('glowbook-shared')).keys()).length)

/** Name of the photo whose reading is not saved yet. */
const draftPhotoName = (page: Page) =>
  page.evaluate(async () => {
    const photo = await caches.match('/in-hand/photo')
    return decodeURIComponent(photo?.headers.get('x-name') ?? '')
  })

test('photos and spectra sent from the share sheet are read, with no network', async ({
  visit,
  site,
}) => {
  const page = await visit()
  await cachedForOffline(page)
  await site.down()
  await share(page, {
    photos: [{ name: 'glow & bar.jpg', type: 'image/jpeg', from: '/practice/forge-bar.jpg' }],
  })
  await page.locator('.temperature .value').waitFor()
  // Taken once: it is not there again after a reload.
  expect(await waitingShares(page)).toBe(0)

  // Another one takes the place of what was not saved, which comes back at a tap.
  await share(page, {
    photos: [{ name: 'second.jpg', type: 'image/jpeg', from: '/practice/forge-bar.jpg' }],
  })
  await page.locator('.temperature .value').waitFor()
  await expect.poll(() => draftPhotoName(page)).toBe('second.jpg')
  await page.getByRole('status').getByRole('button', { name: 'Undo' }).click()
  await expect.poll(() => draftPhotoName(page)).toBe('glow & bar.jpg')
  await page.locator('.temperature .value').waitFor()
  await spectraShared(page)
})

const { lamp, glow } = practiceSpectra()
const lampFile = { name: 'lamp.csv', type: 'text/csv', text: lamp.text }
const glowFile = { name: 'glow.txt', type: 'text/plain', text: glow.text }

/** Two spectra open at the spectrum way, also beside a photo that is in hand. */
async function spectraShared(page: Page): Promise<void> {
  await share(page, { spectra: [lampFile, glowFile] })
  await page.getByRole('heading', { name: 'Spectrum', exact: true }).waitFor()
  expect(new URL(page.url()).pathname).toBe('/reading/spectrum')
  for (const { name } of [lampFile, glowFile]) {
    const preview = page.locator('[class*="file-preview_preview"]', { hasText: name })
    await preview.getByText('2 spectra, 1024 rows, 380 to 950 nm').waitFor()
  }
  expect(await waitingShares(page)).toBe(0)
  // Each file was given its part by its name: the glow only has to be looked at.
  await page.getByRole('button', { name: 'On to the glow' }).click()
  await page.locator('main:visible .temperature .value').first().waitFor()
}

test('photos and spectra sent together: the photo is read, the spectra wait and it is said', async ({
  visit,
}) => {
  const page = await visit()
  await cachedForOffline(page)
  await share(page, {
    photos: [{ name: 'bar.jpg', type: 'image/jpeg', from: '/practice/forge-bar.jpg' }],
    spectra: [lampFile, glowFile],
  })
  await page.locator('.temperature .value').waitFor()
  await page.getByText('2 text files came along. They wait at Spectrum.').waitFor()
  expect(await waitingShares(page)).toBe(2)
  await page.getByRole('status').getByRole('button', { name: 'Open' }).click()
  await page.locator('[class*="file-preview_preview"]', { hasText: 'lamp.csv' }).waitFor()
  expect(await waitingShares(page)).toBe(0)
})

test('a share that did not arrive is told', async ({ visit }) => {
  const page = await visit('/?shared=failed')
  await page.getByRole('alert').waitFor()
})
