import { readFileSync, statSync } from 'node:fs'
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe } from 'vitest'
import { screenOnShow } from './browser.ts'
import { builtApp, expect, keptForOffline, places, standing, test } from './harness.ts'

describe('with the server gone', () => {
  test('a reload brings the app back, every screen by its address', async ({ visit, site }) => {
    const page = await visit()
    await keptForOffline(page)
    await site.down()
    await page.reload()
    await standing(page)
    for (const place of places) {
      await page.goto(place)
      await standing(page)
      expect(new URL(page.url()).pathname).toBe(place)
      await expect.poll(() => page.locator(`${screenOnShow} h1`).count()).toBe(1)
    }
  })

  test('the page stays isolated from other origins', async ({ visit, site }) => {
    const page = await visit()
    await keptForOffline(page)
    await site.down()
    await page.reload()
    expect(await page.evaluate(() => globalThis.crossOriginIsolated)).toBe(true)
  })

  test('a new tab opens a deep link with a query', async ({ visit, site, context }) => {
    await keptForOffline(await visit())
    await site.down()
    const second = await context.newPage()
    await second.goto('/log?from=elsewhere')
    await standing(second)
  })
})

describe('a newer version', () => {
  test('waits until the user lets it take over', async ({ visit, site }) => {
    const page = await visit()
    await keptForOffline(page)
    await page.evaluate(() => {
      document.body.dataset.work = 'in hand'
    })
    const newer = await newerVersion()
    await site.down()
    site.folder = newer
    await site.up()
    try {
      const waits = await page.evaluate(async () => {
        const registration = await navigator.serviceWorker.ready
        await registration.update()
        while (registration.waiting === null) await new Promise((done) => setTimeout(done, 50))
        return registration.active?.state
      })
      expect(waits).toBe('activated')
      // Time enough for a version that would not wait.
      await page.waitForTimeout(500)
      expect(await page.evaluate(() => document.body.dataset.work)).toBe('in hand')
      expect(await page.title()).not.toContain('newer')
      await page.reload()
      expect(await page.title()).not.toContain('newer')

      await page.getByRole('button', { name: 'Update now' }).click()
      await expect.poll(() => page.title()).toContain('newer')
      await standing(page)
    } finally {
      await site.down()
      site.folder = builtApp
      await rm(newer, { recursive: true })
    }
  })
})

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

  test('the browser itself finds no fault with the manifest', async ({ visit, context }) => {
    const page = await visit()
    await keptForOffline(page)
    const session = await context.newCDPSession(page)
    const { errors } = await session.send('Page.getAppManifest')
    expect(errors).toEqual([])
    const { installabilityErrors } = await session.send('Page.getInstallabilityErrors')
    // Contexts of tests are like private windows, which install nothing; no other fault is allowed.
    const faults = installabilityErrors.filter(({ errorId }) => errorId !== 'in-incognito')
    expect(faults).toEqual([])
  })
})

test('a shared photo is received, kept and handed to the reading screen', async ({ visit }) => {
  const page = await visit()
  await keptForOffline(page)
  const outcome = await page.evaluate(async () => {
    const form = new FormData()
    form.append('photos', new File([new Uint8Array([1, 2, 3])], 'glow & bar.dng'))
    const response = await fetch('/share', { method: 'POST', body: form })
    const cache = await caches.open('glowbook-shared')
    const [key] = await cache.keys()
    const kept = key && (await cache.match(key))
    return {
      place: new URL(response.url).search,
      name: key && new URL(key.url).searchParams.get('name'),
      size: (await kept?.arrayBuffer())?.byteLength,
    }
  })
  expect(outcome).toEqual({ place: '?shared=1', name: 'glow & bar.dng', size: 3 })
})

/** A copy of the built app whose page and service worker differ from it by a word. */
async function newerVersion(): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'glowbook-'))
  await cp(builtApp, folder, { recursive: true })
  const page = join(folder, 'index.html')
  const worker = join(folder, 'service-worker.js')
  const html = (await readFile(page, 'utf8')).replace('<title>', '<title>newer ')
  await writeFile(page, html)
  const script = await readFile(worker, 'utf8')
  const revised = script.replace(
    /(\{[^{}]*?revision"?:)("[^"]*"|`[^`]*`)([^{}]*?index\.html)/,
    '$1"newer"$3',
  )
  expect(revised).not.toBe(script)
  await writeFile(worker, revised)
  return folder
}
