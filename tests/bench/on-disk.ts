import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type BrowserContext, chromium } from 'playwright-core'
import { browserFlags, ensureBrowser } from '../../scripts/find-browser.mjs'
import { phone } from '../browser/browser.ts'

/** Large logs take their time on a slow machine. */
const PATIENCE_MS = 600_000

/** A browser as a phone that keeps what it stores on disk, and a folder for files; both gone afterwards. */
export async function onDisk<T>(
  url: string,
  work: (context: BrowserContext, folder: string) => Promise<T>,
): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'glowbook-bench-'))
  const context = await chromium.launchPersistentContext(join(folder, 'profile'), {
    ...phone,
    baseURL: url,
    executablePath: ensureBrowser(),
    args: browserFlags,
  })
  context.setDefaultTimeout(PATIENCE_MS)
  try {
    return await work(context, folder)
  } finally {
    await context.close()
    await rm(folder, { recursive: true, force: true })
  }
}
