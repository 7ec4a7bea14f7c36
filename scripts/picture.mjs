/**
 * Takes the picture of the README and of the web app manifest: the reading screen with the practice
 * photo, on a phone of 390 x 844 at two pixels a point. Needs the built app.
 */
import { mkdirSync, writeFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { chromium } from 'playwright-core'
import { browserFlags, ensureBrowser } from './find-browser.mjs'
import { root } from './install.mjs'
import { serve } from './server.mjs'

const file = join(root, 'public', 'screenshots', 'reading.png')

const server = await serve({ folder: join(root, 'dist'), host: 'localhost' })
const browser = await chromium.launch({ executablePath: ensureBrowser(), args: browserFlags })
try {
  const page = await browser.newPage({
    viewport: { width: 390, height: 844 },
    deviceScaleFactor: 2,
    isMobile: true,
    hasTouch: true,
  })
  await page.goto(`http://localhost:${server.port}/`)
  await page.locator('.safety_gate button.primary').click()
  await page.getByRole('button', { name: /practice photo/i }).click()
  await page.locator('section.result_result').waitFor()
  await page.evaluate(
    () => document.activeElement instanceof HTMLElement && document.activeElement.blur(),
  )
  await page.waitForTimeout(500) // the photo fades in
  mkdirSync(dirname(file), { recursive: true })
  writeFileSync(file, await page.screenshot())
  console.log(`Written: ${file}`)
} finally {
  await browser.close()
  await server.close()
}
