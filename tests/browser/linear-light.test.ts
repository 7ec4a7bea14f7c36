import { describe } from 'vitest'
import { SCENE } from '../../src/sources/practice/forge-scene.ts'
import { appByHand } from '../journeys/app-by-hand.ts'
import { saveReading } from '../journeys/steps.ts'
import { sweepPhotos } from '../making/sweep-photos.ts'
import { dngOf, forgeMosaic } from '../sources/raw/forge-dng.ts'
import { cachedForOffline, expect, patient, test } from './harness.ts'
import { showHow } from './practice-kit.ts'

/** Temperatures between which the screen says that the truth lies, K. */
const rangeOf = (said: string) => {
  const [low, high] = [...said.matchAll(/(-?\d+) °C/g)].map((match) => Number(match[1]) + 273.15)
  return { low: low as number, high: high as number }
}

const photosOf = (...asked: Parameters<typeof sweepPhotos>) =>
  sweepPhotos(...asked).map(({ name, bytes }) => ({
    name,
    mimeType: 'image/jpeg',
    buffer: Buffer.from(bytes),
  }))

test(
  'an exposure sweep is read, its curve kept, and later photos use and check it',
  async ({ visit }) => {
    const page = await visit('/')
    const files = photosOf([0, -1, -2, -3, -4, -5, -6, -7, -8, 0])
    await page
      .locator('label', { hasText: 'Open a photo, or several' })
      .locator('input')
      .setInputFiles(files)
    await page
      .getByRole('heading', { name: 'Exposure sweep' })
      .waitFor({ timeout: patient(60_000) })
    await page.locator('.temperature .value').waitFor({ timeout: patient(60_000) })
    await showHow(page)
    await page.getByLabel('White balance of the photo').selectOption('daylight')
    await page.getByLabel('Surface').selectOption('cavity')
    const said = await page.getByText(/19 times in 20/).textContent()
    const swept = rangeOf(said ?? '')
    expect(swept.low).toBeLessThan(SCENE.temperatureK)
    expect(swept.high).toBeGreaterThan(SCENE.temperatureK)

    await page.getByRole('button', { name: /Keep this tone curve/ }).click()
    await page.getByText('Tone curve kept in the kit.').waitFor()
    await saveReading(appByHand(page))

    // One photo of the same camera: another reading with the kept curve, and no less sure. Without a card
    // what is left is mostly how vivid the camera makes colours.
    await page.getByRole('button', { name: 'New photo' }).click()
    await page
      .locator('label', { hasText: 'Open a photo, or several' })
      .locator('input')
      .setInputFiles(files[0]!)
    await page.locator('.temperature .value').waitFor()
    await showHow(page)
    const kept = page.getByRole('checkbox', { name: /Undo the camera’s tone curve/ })
    expect(await kept.isChecked()).toBe(true)
    const plusMinus = async () =>
      Number(/\d+/.exec((await page.locator('.temperature .plus-minus').textContent()) ?? '')?.[0])
    await expect.poll(plusMinus).toBeGreaterThan(0)
    const withCurve = await plusMinus()
    const range = () => page.getByText(/19 times in 20/).textContent()
    const rangeWithCurve = await range()
    await kept.uncheck()
    await expect.poll(range).not.toBe(rangeWithCurve)
    expect(await plusMinus()).toBeGreaterThanOrEqual(withCurve)
    await kept.check()

    // Two photos check it; of a camera that has changed its pictures they show that it is off.
    const check = async (photos: ReturnType<typeof photosOf>) => {
      await page
        .locator('label', { hasText: /^Check it/ })
        .locator('input')
        .setInputFiles(photos)
      await page.getByRole('heading', { name: 'Check of the tone curve' }).waitFor()
    }
    const openAgain = async () => {
      await page.getByRole('button', { name: 'New photo' }).click()
      await page
        .locator('label', { hasText: 'Open a photo, or several' })
        .locator('input')
        .setInputFiles(files[0]!)
      await page.locator('.temperature .value').waitFor()
    }
    await check(photosOf([0, -2]))
    await page.getByText('The kept tone curve holds').waitFor({ timeout: patient(30_000) })
    await expect.poll(plusMinus).toBeLessThan(1.3 * withCurve)
    await openAgain()
    await check(photosOf([0, -2, -4], 0.9))
    await page
      .getByText('The kept tone curve no longer holds')
      .waitFor({ timeout: patient(30_000) })
    await expect.poll(plusMinus).toBeGreaterThan(withCurve)
    await openAgain()
    await page.getByText(/did not hold on/).waitFor()

    await page.getByRole('link', { name: 'Log', exact: true }).click()
    await page.locator('.log_log-row').first().click()
    await page.locator('main:visible').getByText('Exposure sweep').first().waitFor()
  },
  patient(180_000),
)

describe('offline', () => {
  test.override({ offlineUse: true })
  test(
    'a raw photo is read and saved, and once more with no network',
    async ({ visit, site, context }) => {
      const page = await visit('/')
      await cachedForOffline(page)
      const size = { width: 600, height: 450 }
      const dng = {
        name: 'glow.dng',
        mimeType: 'image/x-adobe-dng',
        buffer: Buffer.from(dngOf(forgeMosaic(size.width, size.height), size)),
      }
      const open = async () => {
        await page
          .locator('label', { hasText: 'Open a photo, or several' })
          .locator('input')
          .setInputFiles(dng)
        await page.locator('.temperature .value').waitFor({ timeout: patient(60_000) })
        await showHow(page)
        await page.getByLabel('Surface').selectOption('cavity')
        return rangeOf((await page.getByText(/19 times in 20/).textContent()) ?? '')
      }
      const online = await open()
      expect(online.low).toBeLessThan(SCENE.temperatureK)
      expect(online.high).toBeGreaterThan(SCENE.temperatureK)
      await saveReading(appByHand(page))

      await expect
        .poll(() =>
          page.evaluate(async () => {
            const kept = await (await caches.open('glowbook-parts')).keys()
            return kept.filter(({ url }) => url.includes('.wasm')).length
          }),
        )
        .toBe(1)
      await site.down()
      await context.setOffline(true)
      await page.reload()
      await page.locator('.temperature .value').waitFor({ timeout: patient(60_000) })
      await page.getByRole('button', { name: 'New photo' }).click()
      const offline = await open()
      expect(offline).toEqual(online)
      await context.setOffline(false)
      await site.up()
    },
    patient(120_000),
  )
})
