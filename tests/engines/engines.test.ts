import { fileURLToPath } from 'node:url'
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from 'vitest'
import { slowness } from '../../scripts/machine-speed.mjs'
import { serve } from '../../scripts/server.mjs'
import type { App } from '../journeys/app.ts'
import { JOURNEYS } from '../journeys/journeys.ts'
import { practicePhoto, putAway, saveReading } from '../journeys/steps.ts'
import { ENGINES, type OpenEngine } from './driver.ts'

const builtApp = fileURLToPath(new URL('../../dist', import.meta.url))
/** Figures by journey and engine: they must be the same to the last digit shown. */
const figures = new Map<string, Map<string, string>>()

/**
 * The storage of WebKitGTK 2.50 under its driver stops answering now and then, for all pages of that
 * browser and until it ends (seen three times). A test that fails there is tried once more
 * in a new browser, and that is printed.
 */
const TRIED_AGAIN = ['WebKit']

for (const engine of ENGINES) {
  if (engine.missing !== null) console.log(`${engine.name} is not tried: ${engine.missing}.`)
  const retry = TRIED_AGAIN.includes(engine.name) ? 1 : 0
  describe.skipIf(engine.missing !== null)(engine.name, { retry }, () => {
    let server: Awaited<ReturnType<typeof serve>>
    let port = 0
    let opened: OpenEngine | undefined
    let app: App
    /** Some machines have an engine that their sandbox lets nobody start. */
    let cannotStart: string | null = null
    const up = async () => {
      server = await serve({ folder: builtApp, host: 'localhost', port })
      port = server.port
    }
    beforeAll(async () => {
      await up()
      try {
        opened = await engine.open()
      } catch (error) {
        // The rest of the suite needs it: it has to start.
        if (engine.name === 'Chromium') throw error
        cannotStart = `${engine.name} cannot be started here: ${(error as Error).message}`
        console.log(cannotStart)
        return
      }
      app = opened.appAt(`http://localhost:${port}`)
    })
    let failed = false
    beforeEach(async ({ skip, task }) => {
      if (cannotStart !== null) skip(cannotStart)
      if (!failed || retry === 0) return
      console.log(`${engine.name} begins anew for: ${task.name}`)
      failed = false
      await opened?.close()
      opened = await engine.open()
      app = opened.appAt(`http://localhost:${port}`)
      // What tests before have left.
      await app.open()
      await practicePhoto(app)
      await saveReading(app)
      await putAway(app)
    })
    afterEach(({ task }) => {
      failed = task.result?.state === 'fail'
    })
    afterAll(async () => {
      await opened?.close()
      await server.close()
    })

    test.each(Object.entries(JOURNEYS))('%s', async (title, journey) => {
      const figure = await journey(app)
      if (figure === undefined) return
      const by = figures.get(title) ?? new Map<string, string>()
      figures.set(title, by.set(engine.name, figure))
      expect(figure).toMatch(/\d/)
    })

    /** Bytes of the log's second copy; null where the engine gives no private files. */
    const secondCopy = () =>
      app.run<number | null>(`
        try {
          const root = await navigator.storage.getDirectory()
          const folder = await root.getDirectoryHandle('glowbook journal')
          const segments = await folder.getDirectoryHandle('segments')
          let bytes = 0
          for await (const file of segments.values()) bytes += (await file.getFile()).size
          return bytes
        } catch {
          return null
        }`)

    test('a practice reading is saved, kept twice, and there after a reload', async () => {
      await app.open()
      await practicePhoto(app)
      await saveReading(app)
      await app.open('/log')
      await app.textOf('.log_log-row')
      const bytes = await secondCopy()
      if (bytes === null) {
        await app.open('/log/keeping')
        await app.see('Only one copy')
      } else expect(bytes).toBeGreaterThan(0)
    })

    test('every screen opens, none as wide as to be scrolled sideways', async () => {
      for (const place of ['/chart', '/kit', '/safety', '/reading/check', '/reading/spectrum']) {
        await app.open(place)
        await app.textOf('main h1')
        expect(
          await app.run('return document.documentElement.scrollWidth <= innerWidth'),
          place,
        ).toBe(true)
        // There is none: a first version that is still being kept is no newer one.
        expect(await app.run('return document.body.innerText'), place).not.toContain('new version')
      }
    })

    test('the practice bench shows a figure, and nothing is promised that the engine lacks', async () => {
      await app.open('/reading/live')
      await app.press(/[Pp]ractice/)
      await app.textOf('.temperature', /\d/)
      const [shakes, wakes, picks] = await app.run<boolean[]>(
        "return ['vibrate' in navigator, 'wakeLock' in navigator, 'showSaveFilePicker' in window]",
      )
      expect(await app.count('[aria-label="Sound and vibration"]')).toBe(shakes ? 1 : 0)
      expect(await app.count('[aria-label="Sound"]')).toBe(shakes ? 0 : 1)
      if (!wakes) await app.see('The screen may go dark')
      await app.open('/log/keeping')
      await app.see('On this device')
      expect(await app.run('return document.body.innerText.includes("Keep a backup file")')).toBe(
        picks,
      )
    })

    test('the app is there when the server is gone', async () => {
      await app.open()
      await expect
        .poll(() => app.run('return Boolean(navigator.serviceWorker.controller)'), {
          timeout: 60_000 * slowness(),
        })
        .toBe(true)
      await server.close()
      try {
        await app.open('/log')
        await app.textOf('.log_log-row')
      } finally {
        await up()
      }
    })

    test('a lost database is made again, or its loss is told', async () => {
      await app.open('/safety')
      const copied = (await secondCopy()) !== null
      await app.run(`
        const request = indexedDB.deleteDatabase('glowbook')
        await new Promise((resolve) => { request.onsuccess = resolve; request.onblocked = resolve })`)
      await app.open('/log')
      if (copied) {
        await app.textOf('.log_log-row')
        await app.see(/put back/)
      } else await app.see(/\d+ readings? that (was|were) here (is|are) gone/)
    })
  })
}

test('figures are the same in every engine, to the last digit shown', () => {
  console.log([...figures].map(([name, by]) => `${name}: ${[...by].flat().join(' ')}`).join('\n'))
  for (const [name, by] of figures) expect(new Set(by.values()).size, name).toBe(1)
})
