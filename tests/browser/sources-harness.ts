import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { BrowserContext, Page } from 'playwright-core'
import { build } from 'vite'
import app from '../../vite.config.ts'
import { coarsePhone } from './browser.ts'
import { test as base, patient, Site, Watch } from './harness.ts'
import type { Sources } from './sources-page/main.ts'

declare global {
  var sources: Sources
}

/**
 * Browser tests of the photo sources by themselves, on a small page of their own:
 * `const page = await sourcesPage()`; in the page, `sources` holds what main.ts exports.
 */
export const test = base.extend<{
  sourcesSite: Site
  /** One page for all tests of a file that leave it as it is, and what it did that it should not. */
  sharedPage: { readonly page: Page; readonly noise: Watch }
  /** @param prepare changes the browser before the page is opened, which is then the test's own */
  sourcesPage: (prepare?: (context: BrowserContext) => Promise<unknown>) => Promise<Page>
}>({
  sourcesSite: [
    // biome-ignore lint/correctness/noEmptyPattern: vitest reads the names of a fixture's needs here
    async ({}, use) => {
      const folder = await mkdtemp(join(tmpdir(), 'glowbook-sources-'))
      const { worker, build: settings } = app({ command: 'build', mode: 'production' })
      await build({
        configFile: false,
        logLevel: 'error',
        root: fileURLToPath(new URL('sources-page', import.meta.url)),
        publicDir: fileURLToPath(new URL('../../public', import.meta.url)),
        worker: worker ?? {},
        build: { ...settings, outDir: folder, emptyOutDir: true },
      })
      const site = new Site()
      site.folder = folder
      await site.up()
      await use(site)
      await site.down()
      await rm(folder, { recursive: true })
    },
    { scope: 'worker' },
  ],
  sharedPage: [
    async ({ browser, sourcesSite }, use) => {
      const noise = new Watch()
      const context = await browser.newContext({
        ...coarsePhone,
        serviceWorkers: 'block',
        baseURL: sourcesSite.url,
      })
      context.setDefaultTimeout(patient(20_000))
      noise.over(context, sourcesSite.url)
      await use({ page: await opened(context), noise })
      await context.close()
    },
    { scope: 'file' },
  ],
  sourcesPage: async ({ contextAt, sourcesSite, sharedPage, watch }, use) => {
    await use(async (prepare) => {
      if (!prepare) return sharedPage.page
      const context = await contextAt(sourcesSite.url)
      await prepare(context)
      return opened(context)
    })
    watch.noise.push(...sharedPage.noise.noise.splice(0))
  },
})

async function opened(context: BrowserContext): Promise<Page> {
  const page = await context.newPage()
  await page.goto('/')
  await page.waitForFunction(() => 'sources' in globalThis)
  return page
}

/** Bytes as text, to hand them to a page; `blobOf` in the page turns them back. */
export const asText = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64')
