import type { Page } from 'playwright-core'
import { addFile, withChangedBuild } from './changed-build.ts'
import { test as base, cachedForOffline, expect, standing } from './harness.ts'

/** Stands for the raw decoder: the tier goes by the folder. */
const heavy = 'assets/raw/part-1.wasm'
const addHeavy = (folder: string) => addFile(folder, heavy, 'heavy')

const get = (page: Page) =>
  page.evaluate(
    (path) =>
      fetch(path).then(
        (response) => response.text(),
        () => 'not there',
      ),
    `/${heavy}`,
  )

const test = base.extend({ offlineUse: true })

test('a heavy part is not fetched at the first visit, and is kept once it was used', async ({
  visit,
  site,
  watch,
}) => {
  watch.allow(/ERR_/)
  await withChangedBuild(site, addHeavy, async () => {
    const page = await visit()
    await cachedForOffline(page)
    await site.down()
    expect(await get(page)).toBe('not there')
    await site.up()
    expect(await get(page)).toBe('heavy')
    await site.down()
    await page.reload()
    await standing(page)
    expect(await get(page)).toBe('heavy')
  })
})

test('a heavy part is kept when the page asks for it, and dropped with its version', async ({
  visit,
  site,
}) => {
  const kept = (page: Page) =>
    page.evaluate(async (path) => {
      const keys = await (await caches.open('glowbook-parts')).keys()
      return keys.filter(({ url }) => new URL(url).pathname === path).length
    }, `/${heavy}`)
  let page: Page | undefined
  await withChangedBuild(site, addHeavy, async () => {
    page = await visit()
    await cachedForOffline(page)
    const answer = await page.evaluate(async () => {
      const { port1, port2 } = new MessageChannel()
      const answered = new Promise((resolve) => {
        port1.onmessage = ({ data }) => resolve(data)
      })
      navigator.serviceWorker.controller?.postMessage({ type: 'KEEP_PART', part: 'raw' }, [port2])
      return answered
    })
    expect(answer).toEqual({ kept: true })
    await site.down()
    expect(await get(page)).toBe('heavy')
    await site.up()
  })
  if (page === undefined) return
  await site.up()
  expect(await kept(page)).toBe(1)
  await page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready
    await registration.update()
    while (registration.waiting === null) await new Promise((done) => setTimeout(done, 50))
  })
  await page.getByRole('button', { name: 'Update now' }).click()
  const current = page
  await expect.poll(() => kept(current).catch(() => 1)).toBe(0)
})
