/** Renders the icons of the web app manifest from public/icons/glowbook.svg in a headless browser. */
import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { chromium } from 'playwright-core'
import { browserFlags, ensureBrowser } from './find-browser.mjs'
import { root } from './install.mjs'

const folder = join(root, 'public', 'icons')
const mark = readFileSync(join(folder, 'glowbook.svg'), 'utf8')
/** Systems cut a maskable icon to their own shape, and iOS rounds its icon: the ground fills it all. */
const square = mark.replaceAll(' rx="104"', '')
/** Only the middle circle of 80 % is safe there (https://w3c.github.io/manifest/#icon-masks). */
const maskable = square.replace('<path ', '<path transform="translate(51.2 51.2) scale(.8)" ')

const icons = [
  { file: 'icon-192.png', size: 192, svg: mark },
  { file: 'icon-512.png', size: 512, svg: mark },
  { file: 'maskable-512.png', size: 512, svg: maskable },
  { file: 'apple-touch-180.png', size: 180, svg: square },
]

const browser = await chromium.launch({ executablePath: ensureBrowser(), args: browserFlags })
for (const { file, size, svg } of icons) {
  const page = await browser.newPage({ viewport: { width: size, height: size } })
  await page.setContent(
    `<style>body { margin: 0 } svg { display: block; width: ${size}px; height: ${size}px }</style>${svg}`,
  )
  writeFileSync(join(folder, file), await page.screenshot({ omitBackground: true }))
  await page.close()
}
await browser.close()
