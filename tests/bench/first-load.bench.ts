import { launchBrowser, phone } from '../browser/browser.ts'
import { FIRST_LOAD_BUDGET_BYTES, firstLoad, totalBytes } from '../browser/first-load.ts'
import type { Bench } from './figure.ts'

export const bench: Bench = async ({ url }) => {
  const browser = await launchBrowser()
  try {
    const files = await firstLoad(await browser.newContext(phone), url)
    return [
      {
        name: 'script and style of the first visit, gzip',
        value: totalBytes(files) / 1000,
        unit: 'kB',
        target: { atMost: FIRST_LOAD_BUDGET_BYTES / 1000 },
      },
    ]
  } finally {
    await browser.close()
  }
}
