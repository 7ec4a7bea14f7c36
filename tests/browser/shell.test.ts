import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { describe } from 'vitest'
import { screenOnShow } from './browser.ts'
import { axe, builtApp, expect, places, smallTargets, standing, test } from './harness.ts'

describe('every screen', () => {
  for (const place of places) {
    test(`${place} opens by its address without a word in the console`, async ({ visit }) => {
      const page = await visit(place)
      await expect.poll(() => page.locator(`${screenOnShow} h1`).count()).toBe(1)
      expect(new URL(page.url()).pathname).toBe(place)
    })

    test(`${place} has no accessibility violation that axe can find`, async ({ visit }) => {
      expect(await axe(await visit(place))).toEqual([])
    })

    // 48 px: what gloved fingers hit; common practice, WCAG 2.2 asks for 24 (2.5.8).
    test(`${place} has controls that gloved fingers hit`, async ({ visit }) => {
      expect(await smallTargets(await visit(place))).toEqual([])
    })

    test(`${place} is no wider than the phone`, async ({ visit }) => {
      const page = await visit(place)
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
        390,
      )
    })
  }
})

describe('the cautions before the first use', () => {
  test('stand before every screen, and are not shown again once accepted', async ({ context }) => {
    const page = await context.newPage()
    await page.goto('/chart')
    const accept = page.locator('.safety_gate button.primary')
    await accept.waitFor()
    expect(await page.getByRole('navigation').count()).toBe(0)
    await accept.click()
    await standing(page)
    await page.reload()
    await page.locator(screenOnShow).first().waitFor()
    expect(await accept.count()).toBe(0)
  })

  test('have no accessibility violation and controls that gloved fingers hit', async ({
    context,
  }) => {
    const page = await context.newPage()
    await page.goto('/')
    await page.locator('.safety_gate button.primary').waitFor()
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])
  })
})

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
    watch.allow(/Content Security Policy/)
    const page = await visit()
    await page.evaluate(() => {
      const script = document.createElement('script')
      script.textContent = 'document.title = "taken over"'
      document.body.append(script)
    })
    expect(await page.title()).not.toBe('taken over')
    expect(watch.noise.join()).toContain('Content Security Policy')
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
    await page.goto('http://127.0.0.1:9/').catch(() => undefined)
    await expect.poll(() => watch.noise.join('\n')).toContain('uncaught: an error on purpose')
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

test('the page is isolated from other origins, as shared memory asks', async ({ visit }) => {
  const page = await visit()
  expect(await page.evaluate(() => globalThis.crossOriginIsolated)).toBe(true)
})

test('an unknown address opens the app', async ({ context }) => {
  const page = await context.newPage()
  expect((await page.goto('/no/such/place'))?.status()).toBe(200)
  await standing(page)
})
