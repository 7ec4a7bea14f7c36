import { fileURLToPath } from 'node:url'
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core'
import { browserFlags, ensureBrowser } from '../../scripts/find-browser.mjs'
import { slowMo } from './uneven.ts'

export const builtApp = fileURLToPath(new URL('../../dist', import.meta.url))

/** A phone held upright, as people hold it in a shop. */
export const phone: BrowserContextOptions = {
  viewport: { width: 390, height: 844 },
  deviceScaleFactor: 3,
  isMobile: true,
  hasTouch: true,
  colorScheme: 'dark',
}

/** The same, drawn with one pixel where a phone has nine: for tests that do not look at the pixels. */
export const coarsePhone: BrowserContextOptions = { ...phone, deviceScaleFactor: 1 }

/** Flags for a camera that plays a file of exact colours (YUV4MPEG2) and asks nobody. */
export function fakeCamera(videoFile?: string): string[] {
  return [
    '--use-fake-ui-for-media-stream',
    '--use-fake-device-for-media-stream',
    ...(videoFile === undefined ? [] : [`--use-file-for-fake-video-capture=${videoFile}`]),
  ]
}

export function launchBrowser(flags: string[] = []): Promise<Browser> {
  // No name but this machine's resolves: what a test does not see still cannot leave.
  const offline = '--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE localhost, EXCLUDE 127.0.0.1'
  return chromium.launch({
    executablePath: ensureBrowser(),
    slowMo,
    args: [...browserFlags, offline, ...flags],
  })
}

/** The screen that is seen: others may be alive behind it, and one may still be on its way. */
export const screenOnShow = 'main:visible:not([aria-busy=true])'

/** Waits until a screen stands on the page, past the cautions. */
export async function standing(page: Page): Promise<void> {
  await page.locator(screenOnShow).first().waitFor()
  const accept = page.locator('.safety_gate button.primary')
  if (await accept.isVisible()) {
    await accept.click()
    await accept.waitFor({ state: 'detached' })
    await page.locator(screenOnShow).first().waitFor()
  }
}
