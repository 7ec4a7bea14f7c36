import { gzipSync } from 'node:zlib'
import type { BrowserContext } from 'playwright-core'
import { standing } from './browser.ts'

export interface LoadedFile {
  path: string
  /** Bytes after gzip at its default level, whatever coding the server chose. */
  gzipBytes: number
}

/** What the first visit may weigh: script and style, gzip. */
export const FIRST_LOAD_BUDGET_BYTES = 70_000

/**
 * Script and style that the page itself loads at a first visit, until the network is quiet: code that
 * follows by itself counts too. What the service worker fetches for later visits is not a part of it.
 */
export async function firstLoad(context: BrowserContext, url: string): Promise<LoadedFile[]> {
  const page = await context.newPage()
  const files: Promise<LoadedFile>[] = []
  page.on('response', (response) => {
    const type = response.request().resourceType()
    if (type !== 'script' && type !== 'stylesheet') return
    if (response.request().serviceWorker() !== null) return
    const { pathname } = new URL(response.url())
    files.push(
      response.body().then((body) => ({ path: pathname, gzipBytes: gzipSync(body).length })),
    )
  })
  await page.goto(url)
  await standing(page)
  await page.evaluate(() => navigator.serviceWorker.ready)
  await page.waitForLoadState('networkidle')
  return Promise.all(files)
}

export function totalBytes(files: readonly LoadedFile[]): number {
  return files.reduce((sum, { gzipBytes }) => sum + gzipBytes, 0)
}
