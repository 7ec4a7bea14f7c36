import { readdirSync, readFileSync } from 'node:fs'
import { createServer } from 'node:http'
import type { AddressInfo } from 'node:net'
import { extname, join } from 'node:path'
import { describe } from 'vitest'
import { screenOnShow } from './browser.ts'
import {
  axe,
  builtApp,
  cachedForOffline,
  expect,
  places,
  smallTargets,
  standing,
  test,
} from './harness.ts'

describe('every screen', () => {
  // 48 px: what gloved fingers hit; common practice, WCAG 2.2 asks for 24 (2.5.8).
  test('opens by its address, is accessible, fits gloves and the phone', async ({ visit }) => {
    const page = await visit()
    for (const place of places) {
      await page.goto(place)
      await expect
        .poll(() => page.locator(`${screenOnShow} h1`).count(), { message: place })
        .toBe(1)
      expect(new URL(page.url()).pathname).toBe(place)
      expect(await axe(page), place).toEqual([])
      expect(await smallTargets(page), place).toEqual([])
      const width = await page.evaluate(() => document.documentElement.scrollWidth)
      expect(width, place).toBeLessThanOrEqual(390)
    }
  })
})

describe('the cautions before the first use', () => {
  test('stand before every screen, are accessible, and are not shown again once accepted', async ({
    context,
  }) => {
    const page = await context.newPage()
    await page.goto('/chart')
    const accept = page.locator('.safety_gate button.primary')
    await accept.waitFor()
    expect(await page.getByRole('navigation').count()).toBe(0)
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])
    await accept.click()
    await standing(page)
    await page.reload()
    await page.locator(screenOnShow).first().waitFor()
    expect(await accept.count()).toBe(0)
  })
})

/** A host that sends files and types, and no other header. */
async function plainHost(): Promise<{ url: string; close(): void }> {
  const types: Record<string, string> = { '.js': 'text/javascript', '.css': 'text/css' }
  const server = createServer((request, response) => {
    const path = new URL(request.url ?? '/', 'http://localhost').pathname
    const file = extname(path) === '' ? '/index.html' : path
    response.setHeader('Content-Type', types[extname(file)] ?? 'text/html')
    try {
      response.end(readFileSync(join(builtApp, file)))
    } catch {
      response.statusCode = 404
      response.end()
    }
  })
  await new Promise<void>((resolve) => server.listen(0, 'localhost', resolve))
  const { port } = server.address() as AddressInfo
  return { url: `http://localhost:${port}`, close: () => void server.close() }
}

describe('the policy of the built page', () => {
  const html = readFileSync(join(builtApp, 'index.html'), 'utf8')

  test('names no foreign origin and allows no inline script or style', () => {
    const policy = /http-equiv="Content-Security-Policy" content="([^"]+)"/.exec(html)?.[1]
    expect(policy).toBeDefined()
    expect(policy).toContain("default-src 'self'")
    expect(policy).not.toMatch(/unsafe-inline|'unsafe-eval'|https?:|\*/)
  })

  test('stands before everything that it governs', () => {
    expect(html.indexOf('Content-Security-Policy')).toBeLessThan(
      html.search(/<(script|link|style)/),
    )
  })

  test('fits a page without inline script, style or handlers', () => {
    expect(html).not.toMatch(/<script(?![^>]*\ssrc=)/)
    expect(html).not.toMatch(/<style|\sstyle=|\son[a-z]+=/)
  })

  test('stops a script that gets into the page', async ({ visit, watch }) => {
    watch.allow(/Content Security Policy/, /Trusted(Script|HTML)/)
    const page = await visit()
    const refused = await page.evaluate(() => {
      const attempts = [
        () => {
          const script = document.createElement('script')
          script.textContent = 'document.title = "taken over"'
          document.body.append(script)
        },
        () => {
          document.body.innerHTML = '<img src="x" onerror="document.title = 1">'
        },
        () => new Worker('https://elsewhere.invalid/worker.js'),
        () => new Worker(URL.createObjectURL(new Blob(['postMessage(1)']))),
      ]
      return attempts.filter((attempt) => {
        try {
          attempt()
          return false
        } catch {
          return true
        }
      }).length
    })
    expect(await page.title()).not.toBe('taken over')
    expect(refused).toBe(4)
  })

  describe('offline', () => {
    test.override({ offlineUse: true })
    test('holds in workers too where the host sends none, once the app is kept', async ({
      browser,
    }) => {
      const host = await plainHost()
      const context = await browser.newContext({ baseURL: host.url })
      try {
        const page = await context.newPage()
        await page.goto('/')
        await standing(page)
        await cachedForOffline(page)
        await page.reload()
        await standing(page)
        const [decoder = ''] = readdirSync(join(builtApp, 'assets')).filter((name) =>
          name.startsWith('photo.worker'),
        )
        const policies = await page.evaluate(
          (paths) =>
            Promise.all(
              paths.map(async (path) => {
                const { headers } = await fetch(path)
                return `${headers.get('content-security-policy')} ${headers.get('permissions-policy')}`
              }),
            ),
          ['/', `/assets/${decoder}`],
        )
        for (const policy of policies) {
          expect(policy).toContain("connect-src 'self' blob:;")
          expect(policy).toContain("frame-ancestors 'none'")
          expect(policy).toContain('geolocation=()')
        }
      } finally {
        await context.close()
        host.close()
      }
    })
  })

  test('stops data from leaving for another origin', async ({ visit, watch }) => {
    watch.allow(/Content Security Policy/, /Fetch API cannot load/)
    const page = await visit()
    const outcome = await page.evaluate(() =>
      fetch('https://elsewhere.invalid/').then(
        () => 'left',
        () => 'stopped',
      ),
    )
    expect(outcome).toBe('stopped')
  })
})

describe('the watch over pages', () => {
  test('sees warnings, uncaught errors and foreign requests', async ({ visit, watch }) => {
    watch.allow(/on purpose/, /foreign request: http:..127\.0\.0\.1:9/, /ERR_/)
    const page = await visit()
    await page.evaluate(() => {
      console.warn('a warning on purpose')
      setTimeout(() => {
        throw new Error('an error on purpose')
      })
    })
    // Before the page is left: its timer would go with it.
    await expect.poll(() => watch.noise.join('\n')).toContain('uncaught: an error on purpose')
    await page.goto('http://127.0.0.1:9/').catch(() => undefined)
    expect(watch.noise.join('\n')).toContain('console warning: a warning on purpose')
    expect(watch.noise.join('\n')).toContain('foreign request: http://127.0.0.1:9/')
  })

  test('sees controls that are too small', async ({ visit }) => {
    const page = await visit()
    await page.evaluate(() => {
      const button = document.createElement('button')
      button.textContent = 'tiny'
      button.style.cssText = 'width: 20px; height: 20px; padding: 0; min-width: 0; min-height: 0'
      document.querySelector('main')?.append(button)
    })
    expect((await smallTargets(page)).join()).toContain('"tiny"')
  })
})

test('an unknown address opens the app, isolated from other origins as shared memory asks', async ({
  context,
}) => {
  const page = await context.newPage()
  expect((await page.goto('/no/such/place'))?.status()).toBe(200)
  await standing(page)
  expect(await page.evaluate(() => globalThis.crossOriginIsolated)).toBe(true)
})

test('Back closes what was opened last, on every screen', async ({ visit }) => {
  const page = await visit('/')
  const button = (name: string | RegExp) => page.getByRole('button', { name })
  await button(/Practice photo/).click()
  await button('Name, notes').click()
  const dialog = page.getByRole('dialog', { name: 'Name and notes' })
  await dialog.waitFor()
  await page.goBack()
  await dialog.waitFor({ state: 'hidden' })
  await page.locator('.temperature .value').waitFor()
  await button('Save reading').click()
  await page.getByText('Saved.', { exact: true }).waitFor()
  await page.goBack()
  await page.getByText('Photo put away.').waitFor()

  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await button('Select').click()
  await button('Done').waitFor()
  await page.goBack()
  await button('Select').waitFor()

  await page.getByRole('link', { name: 'Chart', exact: true }).click()
  await button('Against the piece itself').click()
  const asked = page.getByRole('dialog', { name: 'Before the match' })
  await asked.getByLabel('Surface').selectOption('not-known')
  await asked.getByRole('button', { name: 'Go on' }).click()
  await button('They agree').waitFor()
  await page.goBack()
  await page.getByRole('heading', { name: 'Chart' }).waitFor()

  await page.goto('/reading/live')
  await button(/Practice bench/).click()
  await button('Hold').waitFor()
  await page.goBack()
  await button('Start the camera').waitFor()
})
