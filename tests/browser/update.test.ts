import type { Page } from 'playwright-core'
import { buildOf, newerPage, withChangedBuild } from './changed-build.ts'
import { test as base, cachedForOffline, expect, standing } from './harness.ts'

/** Something on the page that a reload would take away. */
const resumeDraft = (page: Page) =>
  page.evaluate(() => {
    document.body.dataset.work = 'in hand'
  })
const inHand = (page: Page) => page.evaluate(() => document.body.dataset.work)

/** Lets the page look for a newer version and resolves when one waits. */
const findNewer = (page: Page) =>
  page.evaluate(async () => {
    const registration = await navigator.serviceWorker.ready
    await registration.update()
    while (registration.waiting === null) await new Promise((done) => setTimeout(done, 50))
  })

const test = base.extend({ offlineUse: true })

test('a newer version waits until the user lets it take over', async ({ visit, site }) => {
  const page = await visit()
  await cachedForOffline(page)
  await resumeDraft(page)
  await withChangedBuild(site, newerPage, async () => {
    await findNewer(page)
    await page.getByRole('button', { name: 'Update now' }).waitFor()
    // Time enough for a version that would not wait.
    await page.waitForTimeout(500)
    expect(await inHand(page)).toBe('in hand')
    await page.reload()
    expect(await buildOf(page)).not.toContain('newer')

    await page.getByRole('button', { name: 'Update now' }).click()
    await expect.poll(() => buildOf(page)).toContain('newer')
    await standing(page)
    expect(await page.getByRole('button', { name: 'Update now' }).count()).toBe(0)
  })
})

test('an update in one tab takes nothing from another', async ({ visit, site }) => {
  const page = await visit()
  await cachedForOffline(page)
  const other = await visit()
  await resumeDraft(other)
  await withChangedBuild(site, newerPage, async () => {
    await findNewer(page)
    await page.getByRole('button', { name: 'Update now' }).click()
    await expect.poll(() => buildOf(page)).toContain('newer')
    await other.waitForTimeout(500)
    expect(await inHand(other)).toBe('in hand')
    // There it is offered, and a reload is all that it takes.
    await other.getByRole('button', { name: 'Update now' }).click()
    await expect.poll(() => buildOf(other)).toContain('newer')
  })
})
