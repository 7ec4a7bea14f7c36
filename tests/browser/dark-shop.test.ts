import type { Page } from 'playwright-core'
import { JOB_NAMES } from '../../src/ui/words/safety-names.ts'
import { phone } from './browser.ts'
import { axe, expect, lead, smallTargets, standing, test } from './harness.ts'
import { meanLuminance } from './luminance.ts'

/** Mean luminance of any screen in the dark-shop look, of white, at most. */
const DARKEST = 0.012

const SCREENS = [
  '/',
  '/chart',
  '/log',
  '/log/recordings',
  '/log/keeping',
  '/kit',
  '/safety',
  '/safety/distance',
  '/reading/live',
  '/reading/check',
  '/reading/spectrum',
] as const

/** As a person who has chosen a look before opens the app. */
const chooseLook = (page: Page, look: string) =>
  page.addInitScript((name) => localStorage.setItem('glowbook.look', name), look)

const figure = (page: Page) =>
  page.locator('main:visible .temperature .plus-minus').first().waitFor()

test('in the dark shop no screen is brighter than 0.012 of white; it and the bench keep contrast', async ({
  context,
}) => {
  const page = await context.newPage()
  await chooseLook(page, 'dark-shop')
  await page.goto('/')
  await standing(page)
  const wear = (look: string) =>
    page.evaluate((name) => {
      document.documentElement.dataset.look = name
    }, look)
  for (const place of SCREENS) {
    await lead(page, place)
    await wear('dark-shop')
    expect(await meanLuminance(page), place).toBeLessThanOrEqual(DARKEST)
    // Looks differ in nothing but colour and size; the rest is looked at in the screens' own tests.
    expect(await axe(page, ['color-contrast']), `${place} in the dark shop`).toEqual([])
    await wear('bench')
    expect(await axe(page, ['color-contrast']), `${place} at the bench`).toEqual([])
  }
})

test('nothing bright is painted before the app has started, nor by its manifest', async ({
  contextAt,
  site,
}) => {
  await site.up()
  const still = await contextAt(site.url, { ...phone, javaScriptEnabled: false })
  const page = await still.newPage()
  await page.goto('/')
  const reader = await (await contextAt(site.url)).newPage()
  expect(await meanLuminance(page, undefined, reader)).toBeLessThanOrEqual(DARKEST)
  const manifest = await (await page.request.get('/manifest.webmanifest')).json()
  // 32 of 255 in each channel is 0.014 of white; a splash of #14100e is 0.005.
  for (const colour of [manifest.background_color, manifest.theme_color])
    for (const at of [1, 3, 5])
      expect(Number.parseInt(colour.slice(at, at + 2), 16)).toBeLessThan(0x20)
})

test('a reading in the dark shop: picture, log and message are dim, the message by half', async ({
  visit,
}) => {
  const page = await visit('/safety')
  await page.getByRole('button', { name: 'Dark shop', exact: true }).click()
  await page.getByRole('link', { name: 'Reading', exact: true }).click()
  await page.getByRole('button', { name: /Practice photo/ }).click()
  await figure(page)
  await page.locator('main:visible svg image').first().waitFor()
  expect(await meanLuminance(page)).toBeLessThanOrEqual(DARKEST)
  await page.getByRole('button', { name: 'Save reading' }).click()
  expect(await againstBelow(page)).toBeLessThanOrEqual(0.5)
  await page.getByRole('link', { name: 'Safety', exact: true }).click()
  await page.getByRole('button', { name: JOB_NAMES.lamp, exact: true }).click()
  await page.getByRole('button', { name: 'End of work' }).click()
  await page.getByRole('button', { name: 'Close the job' }).click()
  expect(await againstBelow(page)).toBeLessThanOrEqual(0.5)
  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await page.getByRole('link', { name: /±/ }).click()
  await page.getByRole('button', { name: 'Delete' }).waitFor()
  expect(await meanLuminance(page)).toBeLessThanOrEqual(DARKEST)
})

/** Light of the message that has come up over that of what it covers; closes it. */
async function againstBelow(page: Page): Promise<number> {
  const message = page.locator('.word')
  await message.waitFor()
  const box = (await message.boundingBox())!
  const bright = await meanLuminance(page, box)
  await page.getByRole('button', { name: 'Close this message' }).click()
  await message.waitFor({ state: 'detached' })
  return bright / (await meanLuminance(page, box))
}

test('live: the dark-shop look is offered for a dark picture; all in reach, targets for gloves', async ({
  context,
  visit,
}) => {
  await context.addInitScript(() => {
    const spoken: string[] = []
    class Utterance {
      constructor(readonly text: string) {}
    }
    Object.assign(globalThis, { spoken, SpeechSynthesisUtterance: Utterance })
    // A server's voice comes first and is not used.
    const voices = [false, true].map((localService) => ({ localService, lang: 'en-GB' }))
    Object.defineProperty(globalThis, 'speechSynthesis', {
      value: {
        getVoices: () => voices,
        cancel: () => undefined,
        speak: ({ text, voice }: { text: string; voice: { localService: boolean } }) =>
          voice.localService && spoken.push(text),
      },
    })
  })
  const page = await visit('/reading/live')
  const practice = page.getByRole('button', { name: /Practice bench/ })
  const no = page.getByRole('button', { name: 'Do not offer the dark-shop look again' })
  await practice.click()
  await no.waitFor()
  const offer = (await page.locator('.live_dark-offer').boundingBox())!
  const picture = (await page.locator('.live_live-picture').boundingBox())!
  // The glow in the middle of the picture stays in sight.
  expect(offer.y + offer.height).toBeLessThan(picture.y + picture.height / 3)
  await no.click()
  await no.waitFor({ state: 'detached' })
  // Remembered: another camera, and there is none; until the device has forgotten it.
  await page.getByRole('button', { name: 'Stop', exact: true }).click()
  const refused = await page.evaluate(() => {
    const stored = localStorage.getItem('glowbook.dark-offer')
    localStorage.removeItem('glowbook.dark-offer')
    return stored
  })
  expect(refused).not.toBeNull()
  await practice.click()
  await no.waitFor()
  await page.evaluate(() => {
    document.documentElement.dataset.look = 'bench'
  })
  expect(await axe(page, ['color-contrast'])).toEqual([])
  await page.getByRole('button', { name: 'Dark shop look' }).click()
  await no.waitFor({ state: 'detached' })
  expect(await page.evaluate(() => localStorage.getItem('glowbook.look'))).toBe('dark-shop')

  await figure(page)
  const band = page.locator('summary', { hasText: 'Target band' })
  await band.click()
  await page.getByLabel('From, °C').fill('900')
  await page.getByLabel('To, °C').fill('1000')
  await band.click()
  const sound = page.getByRole('button', { name: 'Sound and vibration' })
  await page.getByRole('button', { name: 'Read it aloud now' }).click()
  const [words] = await page.evaluate(() => (globalThis as unknown as { spoken: string[] }).spoken)
  expect(words).toMatch(/^\d+ °C, plus or minus \d+ °C, (below|inside|above)\.$/)
  await sound.click()
  expect(await sound.getAttribute('aria-pressed')).toBe('true')
  await sound.click()
  const main = [
    page.getByRole('button', { name: 'Save', exact: true }),
    page.getByRole('button', { name: 'Hold', exact: true }),
    page.getByRole('button', { name: 'Record heat over time' }),
    band,
  ]
  for (const [width, height, footPx] of [
    [390, 844, 64],
    [844, 390, 0],
  ] as const) {
    await page.setViewportSize({ width, height })
    await page.evaluate(() => scrollTo(0, 0))
    expect((await sound.boundingBox())!.y).toBeLessThanOrEqual(64)
    for (const one of main) {
      const box = (await one.boundingBox())!
      expect(box.height).toBeGreaterThanOrEqual(72)
      // The thumb of a hand that holds the phone: the lower half upright, all of it sideways.
      expect(box.y).toBeGreaterThanOrEqual(height > width ? height / 2 : 0)
      expect(box.y + box.height).toBeLessThanOrEqual(height - footPx)
    }
    // Nothing of the readout lies below what stays at the foot.
    const status = (await page.locator('.live_live-trouble').boundingBox())!
    expect(status.y + status.height).toBeLessThanOrEqual((await main[0]!.boundingBox())!.y)
    expect(await smallTargets(page, 56)).toEqual([])
    expect(await meanLuminance(page)).toBeLessThanOrEqual(DARKEST)
  }
  expect(await axe(page)).toEqual([])
})
