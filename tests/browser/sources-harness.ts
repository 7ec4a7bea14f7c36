import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import type { Page } from 'playwright-core'
import { build } from 'vite'
import app from '../../vite.config.ts'
import { test as base, Site } from './harness.ts'
import type { Sources } from './sources-page/main.ts'

declare global {
  var sources: Sources
}

/**
 * Browser tests of the photo sources by themselves, on a small page of their own:
 * `const page = await sourcesPage()`; in the page, `sources` holds what main.ts exports.
 */
export const test = base.extend<{ sourcesSite: Site; sourcesPage: () => Promise<Page> }>({
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
  sourcesPage: async ({ contextAt, sourcesSite }, use) => {
    await use(async () => {
      const context = await contextAt(sourcesSite.url)
      const page = await context.newPage()
      await page.goto('/')
      await page.waitForFunction(() => 'sources' in globalThis)
      return page
    })
  },
})

/** Bytes as text, to hand them to a page; `blobOf` in the page turns them back. */
export const asText = (bytes: Uint8Array) => Buffer.from(bytes).toString('base64')
