import { existsSync, mkdirSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import AxeBuilder from '@axe-core/playwright'
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core'
import { test as base, expect, inject } from 'vitest'
import { serve } from '../../scripts/server.mjs'
import {
  builtApp,
  coarsePhone,
  fakeCamera,
  launchBrowser,
  screenOnShow,
  standing,
} from './browser.ts'
import { glowVideo, SMALL_VIDEO } from './live-video.ts'
import { makeUneven } from './uneven.ts'

/**
 * Browser tests against the built app:
 *
 *   import { expect, test } from './harness.ts'
 *   test('the chart opens', async ({ visit }) => {
 *     const page = await visit('/chart')
 *     ...
 *   })
 *
 * Every page is watched: a console warning or error, an uncaught error, or a request to another
 * origin fails the test at its end, unless the test says beforehand which noise it provokes:
 * `watch.allow(/ERR_CONNECTION_REFUSED/)`.
 */
export { builtApp, expect, standing }

declare module 'vitest' {
  interface ProvidedContext {
    /** How much slower than a quiet machine this one ran when the tests began. */
    patience: number
  }
}

/** A limit that grows on a slow machine, for what takes long even on a quiet one. */
export const patient = (quietMs: number) => quietMs * inject('patience')

/** Every browser has a camera that shows a glow of this temperature. */
export const CAMERA_K = 1273

/** The built app on an address of its own that can go away and come back. */
export class Site {
  url = ''
  folder = builtApp
  #server: Awaited<ReturnType<typeof serve>> | undefined

  async up(): Promise<void> {
    if (this.#server !== undefined) return
    const port = this.url === '' ? 0 : Number(new URL(this.url).port)
    this.#server = await serve({ folder: this.folder, port, host: 'localhost' })
    this.url = `http://localhost:${this.#server.port}`
  }

  /** Ends the server and every connection to it. */
  async down(): Promise<void> {
    await this.#server?.close()
    this.#server = undefined
  }
}

/** What pages did that they should not do. */
export class Watch {
  readonly noise: string[] = []
  #allowed: RegExp[] = []

  /** Noise that a test provokes on purpose. */
  allow(...patterns: RegExp[]): void {
    this.#allowed.push(...patterns)
  }

  over(context: BrowserContext, origin: string): void {
    context.on('console', (message) => {
      if (message.type() === 'warning' || message.type() === 'error')
        this.noise.push(`console ${message.type()}: ${message.text()}`)
    })
    context.on('weberror', (error) => this.noise.push(`uncaught: ${error.error().message}`))
    context.on('request', (request) => {
      const url = new URL(request.url())
      const local = ['data:', 'blob:', 'about:'].includes(url.protocol)
      if (!local && url.origin !== origin) this.noise.push(`foreign request: ${url.href}`)
    })
  }

  unexpected(): string[] {
    return this.noise.filter((line) => !this.#allowed.some((pattern) => pattern.test(line)))
  }
}

interface Fixtures {
  /**
   * Whether pages keep the app for offline use. That fetches and stores all of it anew for every test,
   * a third of the work of a short one. A file that needs it says
   * `const test = base.extend({ offlineUse: true })`, a group `test.override({ offlineUse: true })`:
   * outside of a group that would hold for every file that the same process runs later.
   */
  offlineUse: boolean
  /**
   * Where pages are drawn; with `base.extend({ device: phone })` in a phone's full number of pixels,
   * which would be a tenth more work in all.
   */
  device: BrowserContextOptions
  /** One for all files that run in this process; what a page stores stays in its context. */
  browser: Browser
  site: Site
  watch: Watch
  /** A device of its own, watched, with nothing stored yet: `contextAt(url)` is a phone there. */
  contextAt: (url: string, options?: BrowserContextOptions) => Promise<BrowserContext>
  /** A phone at the built app, with nothing stored yet. */
  context: BrowserContext
  /** Opens a place of the app in a new page and past the cautions that stand before first use. */
  visit: (place?: string) => Promise<Page>
}

export const test = base.extend<Fixtures>({
  offlineUse: false,
  device: coarsePhone,
  browser: [
    // biome-ignore lint/correctness/noEmptyPattern: vitest reads the names of a fixture's needs here
    async ({}, use) => {
      const video = glowVideo(CAMERA_K, SMALL_VIDEO)
      const browser = await launchBrowser(fakeCamera(video.file))
      await use(browser)
      await browser.close()
      video.remove()
    },
    { scope: 'worker' },
  ],
  site: [
    // biome-ignore lint/correctness/noEmptyPattern: vitest reads the names of a fixture's needs here
    async ({}, use) => {
      if (!existsSync(`${builtApp}/index.html`))
        throw new Error('No built app: npm run build first.')
      const site = new Site()
      await site.up()
      await use(site)
      await site.down()
    },
    { scope: 'file' },
  ],
  // biome-ignore lint/correctness/noEmptyPattern: vitest reads the names of a fixture's needs here
  watch: async ({}, use) => {
    const watch = new Watch()
    await use(watch)
    expect(watch.unexpected(), 'noise in the browser').toEqual([])
  },
  contextAt: async ({ browser, offlineUse, device, watch, task }, use) => {
    const contexts: BrowserContext[] = []
    if (!offlineUse) watch.allow(/Service Worker registration blocked by Playwright/)
    await use(async (url, options = device) => {
      const serviceWorkers = offlineUse ? 'allow' : 'block'
      const context = await browser.newContext({ serviceWorkers, ...options, baseURL: url })
      // Less than the test's own limit: what was waited for is then named.
      context.setDefaultTimeout(patient(20_000))
      watch.over(context, url)
      await makeUneven(context, offlineUse)
      contexts.push(context)
      return context
    })
    const pages = contexts.flatMap((context) => context.pages())
    if (task.result?.state === 'fail') await portray(pages, task.name)
    for (const context of contexts) await context.close()
  },
  context: async ({ contextAt, site }, use) => {
    await site.up()
    await use(await contextAt(site.url))
  },
  visit: async ({ context }, use) => {
    await use(async (place = '/') => {
      const page = await context.newPage()
      await page.addInitScript(acceptCautions)
      await page.goto(place)
      await standing(page)
      return page
    })
  },
})

/** Leads to a place as a link of the app does: without loading the app anew, which costs ten times as much. */
export async function lead(page: Page, place: string): Promise<void> {
  await page.evaluate((path) => {
    history.pushState(null, '', path)
    dispatchEvent(new PopStateEvent('popstate'))
  }, place)
  await page.locator(screenOnShow).first().waitFor()
}

/** As somebody does who has used the app before: that screen costs a visit twice its time. */
function acceptCautions(): void {
  // The name and the edition that the app stores; with another one it asks again, and `standing` answers.
  if (location.origin !== 'null') localStorage.setItem('glowbook.cautions', '1')
}

/** Leaves pictures of the pages of a test that failed, and says where. */
async function portray(pages: readonly Page[], title: string): Promise<void> {
  const folder = fileURLToPath(new URL('../output/', import.meta.url))
  mkdirSync(folder, { recursive: true })
  for (const [i, page] of pages.entries()) {
    const path = `${folder}${title.replace(/[^\w]+/g, '-').slice(0, 80)}-${i + 1}.png`
    await page
      .screenshot({ path, timeout: 5000 })
      .then(() => console.log(`The page of the failed test, at ${page.url()}: ${path}`))
      .catch((error) => console.log(`No picture of ${page.url()}: ${error.message}`))
    // Where pictures are not kept, what the screen said tells most.
    const said = await page
      .locator(screenOnShow)
      .first()
      .ariaSnapshot({ timeout: 2000 })
      .catch(() => '')
    console.log(`It said:\n${said.slice(0, 1500)}`)
  }
}

/** The notes of unsaved work, which a reload brings back: written behind the work, a moment later. */
export const draftNotes = (page: Page): Promise<string> =>
  page.evaluate(async () => {
    const texts: string[] = []
    for (const name of await caches.keys()) {
      if (!name.includes('in-hand')) continue
      texts.push((await (await (await caches.open(name)).match('/in-hand/notes'))?.text()) ?? '')
    }
    return texts.join('\n')
  })

/** The places of the five screens. */
export const places = ['/', '/chart', '/log', '/kit', '/safety'] as const

/**
 * WCAG 2.2 AA and axe's best practices; resolves to one line for each violation, best none.
 *
 * @param rules some of axe's rules; else all
 */
export async function axe(page: Page, rules?: string[]): Promise<string[]> {
  // Half a megabyte of script, brought into a page once.
  const isThere = await page.evaluate(() => 'axe' in globalThis)
  // In its other mode it opens a second page for frames of other origins; the app has none.
  const builder = new AxeBuilder({ page, ...(isThere ? { axeSource: 'void 0' } : {}) })
    .setLegacyMode(true)
    .options({ resultTypes: ['violations'] })
  const { violations } = await (rules ? builder.withRules(rules) : builder).analyze()
  return violations.map(
    ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map(({ target }) => target).join(' | ')}`,
  )
}

/**
 * Visible controls less than 48 CSS px wide or high, as text: gloved hands miss them. Links within a
 * sentence are as high as its line, as everywhere.
 */
export function smallTargets(page: Page, leastPx = 48): Promise<string[]> {
  return page.evaluate((least) => {
    const controls =
      'a[href], button, input:not([type=hidden]), select, textarea, summary, [role=button]'
    return [...document.querySelectorAll<HTMLElement>(controls)]
      .map((control) => {
        // A label belongs to the target of its control.
        const labels = 'labels' in control ? [...(control.labels as NodeListOf<HTMLElement>)] : []
        const boxes = [control, ...labels].map((element) => element.getBoundingClientRect())
        const wide = Math.max(...boxes.map((box) => box.width))
        const high = Math.max(...boxes.map((box) => box.height))
        return { control, wide, high }
      })
      .filter(({ control }) => control.checkVisibility({ visibilityProperty: true }))
      .filter(({ control }) => !isInSentence(control))
      .filter(({ wide, high }) => wide > 0 && (wide < least - 0.5 || high < least - 0.5))
      .map(({ control, wide, high }) => {
        const text = (control.getAttribute('aria-label') ?? control.textContent ?? '').trim()
        return `${control.tagName.toLowerCase()} "${text.slice(0, 40)}" ${wide} x ${high}`
      })

    function isInSentence(control: HTMLElement): boolean {
      if (control.tagName !== 'A' || getComputedStyle(control).display !== 'inline') return false
      const sentence = control.closest('p, li, dd, td')?.textContent ?? ''
      return sentence.trim().length > (control.textContent ?? '').trim().length
    }
  }, leastPx)
}

/** Waits until the app is kept for offline use and this page is in the service worker's hands. */
export async function cachedForOffline(page: Page): Promise<void> {
  await page.evaluate(async () => {
    await navigator.serviceWorker.ready
    if (navigator.serviceWorker.controller) return
    await new Promise((resolve) =>
      navigator.serviceWorker.addEventListener('controllerchange', resolve, { once: true }),
    )
  })
}
