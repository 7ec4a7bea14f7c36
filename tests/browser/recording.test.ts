import type { Page } from 'playwright-core'
import { phone } from './browser.ts'
import { encodeFilm, evenTimes, type FilmPlan, filmCodes } from './encode-film.ts'
import { axe, test as base, expect, smallTargets } from './harness.ts'

// Plots are drawn in the device's own pixels.
const test = base.extend({ device: phone })

test('a recording runs on behind other screens, says so, lies in the log when it ends, and comes back by undo', async ({
  visit,
}) => {
  const page = await visit('/reading/live')
  await page.getByRole('button', { name: /Practice bench/ }).click()
  await page.locator('.live_live-readout .plus-minus').waitFor()
  await page.getByRole('button', { name: 'Record heat over time' }).click()
  // On a slow machine the seconds are not all shown.
  await page.getByRole('button', { name: /End recording (0:(0[3-9]|[1-5]\d)|[1-9]:)/ }).waitFor()
  await page.getByRole('button', { name: 'Power off' }).click()
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  await page.getByRole('link', { name: 'Chart' }).click()
  await page.getByText(/^Recording \d+:\d/).waitFor()
  await page.getByRole('button', { name: 'End', exact: true }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.getByText('Plateaus and kinks').waitFor()
  await page.getByText('About this recording').click()
  await page.locator('main:visible').getByText('Power off').last().waitFor()
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  await page.getByRole('link', { name: 'Back' }).click()
  const row = page.locator('main:visible li').first()
  await row.waitFor()
  expect(await axe(page)).toEqual([])

  await row.getByRole('link').click()
  await page.getByRole('button', { name: 'Delete' }).click()
  await page.getByText('Record live, or open a video').waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await row.waitFor()
})

test('a file that is no video is refused in words', async ({ visit }) => {
  const page = await visit('/log/recordings%2Fvideo')
  await page
    .locator('main:visible input[type=file]')
    .setInputFiles({ name: 'note.mp4', mimeType: 'video/mp4', buffer: Buffer.from('no video') })
  await page.getByText('No video in this file').waitFor()
  expect(await axe(page)).toEqual([])
})

/** A bar that cools, stands at silver's freezing point for seven seconds, and cools on. */
const SILVER_K = 1234.93
const standsAt = (t: number) => SILVER_K - 9 * (t < 5 ? t - 5 : Math.max(t - 12, 0))
const times = evenTimes(18, 10)
const FILM: FilmPlan = {
  container: 'mp4',
  codec: 'avc',
  width: 480,
  height: 270,
  bitrate: 8_000_000,
  times,
  codes: times.map((t) => filmCodes(standsAt(t), 0.22)),
}

/** Opens a film, says surface and balance, and reads it. */
async function readFilm(page: Page, name: string, film: Buffer): Promise<void> {
  const screen = page.locator('main:visible')
  await screen
    .locator('input[type=file]')
    .setInputFiles({ name, mimeType: 'video/mp4', buffer: film })
  await page.getByText('480 × 270').waitFor()
  await screen.locator('select').first().selectOption('cavity')
  await screen.getByLabel('White balance while filming').selectOption('locked')
  await screen.getByLabel('Exposure while filming').selectOption('locked')
  await page.getByRole('button', { name: 'Read the curve' }).click()
  await page.getByText('Plateaus and kinks').waitFor()
}

test('the plateau of a filmed melt becomes a known heat of that camera by a tap', async ({
  visit,
  browser,
  site,
}) => {
  const page = await visit('/log/recordings%2Fvideo')
  const film = await encodeFilm(browser, site.url, FILM)
  await readFilm(page, 'silver.mp4', film)
  await page.getByText('It stands while cooling').waitFor()
  // It stands from 5 to 12 s; half a second is allowed, and whole seconds are shown.
  await page.getByText(/ 0:0[45] to 0:1[12]$/).waitFor()
  const what = page.getByLabel('What it was')
  // Waits for the list, which comes after the place.
  const silver = what.locator('option', { hasText: /silver.*charcoal/ })
  await silver.waitFor({ state: 'attached' })
  // Of several melts none is taken before the person has said which.
  const uses = page.getByRole('button', { name: /^(Set this curve|Keep as a known heat)/ })
  expect(await uses.count()).toBe(0)
  await what.selectOption((await silver.getAttribute('value'))!)
  expect(await axe(page)).toEqual([])
  // Put through it, the curve reads the melt's own temperature, and the melt alone is left.
  await page.getByRole('button', { name: 'Set this curve by it' }).click()
  await page.getByRole('heading', { name: 'silver, set by its plateau' }).waitFor()
  await page.getByText(/^96[12] ± [5-7] °C · 0:0[45] to 0:1[12]$/).waitFor()
  await page.getByText(/^May be: Fine silver melts \(under charcoal\)/).waitFor()
  expect(await page.getByRole('button', { name: 'Set this curve by it' }).count()).toBe(0)
  await page.getByRole('button', { name: /^Keep as a known heat: 96\d/ }).click()
  await page.getByRole('button', { name: 'Kept as a known heat' }).waitFor()
  await page.getByRole('button', { name: 'Kit', exact: true }).click()
  await page
    .getByText(/silver.*plateau/i)
    .first()
    .waitFor()

  // A picture of the film at which it is paused is read and mapped like a photo.
  await page.goto(`${site.url}/log/recordings%2Fvideo`)
  const screen = page.locator('main:visible')
  await screen
    .locator('input[type=file]')
    .setInputFiles({ name: 'silver.mp4', mimeType: 'video/mp4', buffer: film })
  await screen.getByRole('slider').fill('9')
  await screen.getByText('Picture at 9.0 s').waitFor()
  await screen.getByRole('button', { name: 'Read this picture, map its heat' }).click()
  await page.locator('main:visible .temperature .value').waitFor()
  await page.getByText('Map: where it is hottest, how even', { exact: true }).click()
  await page.getByText(/^Even within ± \d+ °C/).waitFor()
})

test('without decoders of single pictures a film is played, and read all the same', async ({
  visit,
  browser,
  site,
}) => {
  const page = await visit('/log/recordings%2Fvideo')
  await page.evaluate(() => Reflect.deleteProperty(globalThis, 'VideoDecoder'))
  const short = { ...FILM, codec: 'vp8', container: 'webm', times: times.slice(0, 40) } as const
  await readFilm(page, 'bar.webm', await encodeFilm(browser, site.url, short))
  await page.getByText('None found.').waitFor()
})
