import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import { writeDng } from '../making/write-dng.ts'
import { writePng } from '../making/write-png.ts'
import { screenOnShow } from './browser.ts'
import { axe, expect, lead, smallTargets, test } from './harness.ts'
import {
  keep,
  keepPractice,
  nextFrame,
  openPhoto,
  practice,
  rangeOf,
  settled,
  showHow,
} from './practice-kit.ts'

const PRACTICE_K = 1193

/** Reads the practice photo with the lock and surface of the kit. */
async function readPractice(page: Page): Promise<readonly [number, number]> {
  await page.getByRole('link', { name: 'Reading', exact: true }).click()
  await openPhoto(page, practice)
  await page.getByText(/19 times in 20/).waitFor()
  await showHow(page)
  await page.getByLabel('White balance of the photo').selectOption('daylight')
  await page
    .locator('label', { hasText: /^Surface/ })
    .locator('select')
    .selectOption('cavity')
  await nextFrame(page)
  return rangeOf(page)
}

/** A raw photo of a steady scene of five stops, by a shutter of powers of two under the usual label. */
function exposedScene(label: number) {
  const [width, height] = [96, 64]
  const seconds = 2 ** Math.round(Math.log2(label))
  const samples = Uint16Array.from({ length: width * height }, (_, i) => {
    const light = 28 * seconds * 2 ** ((-5 * (i % width)) / width)
    return 1000 + Math.min(60_000 * light, 60_000)
  })
  const dng = writeDng({
    width,
    height,
    samples,
    black: [1000],
    white: 61_000,
    colorMatrix: null,
    asShotNeutral: [0.5, 1, 0.6],
    exif: [
      { tag: 33434, type: 'rational', values: [label] },
      { tag: 33437, type: 'rational', values: [2] },
      { tag: 34855, type: 'short', values: [100] },
    ],
  })
  return {
    name: `${Math.round(1 / label)}.dng`,
    mimeType: 'image/x-adobe-dng',
    buffer: Buffer.from(dng),
  }
}

test('a known heat narrows the view of its camera and its readings, and switched off it does not', async ({
  visit,
}) => {
  const page = await visit('/chart')
  const widthOnChart = async () => {
    const said = (await page.getByText(/A photo of this colour/).textContent()) ?? ''
    const [low, high] = said.match(/\d+/g)!.map(Number)
    return high! - low!
  }
  await page.getByRole('button', { name: 'This camera' }).click()
  await page
    .getByRole('status')
    .getByText(/A typical camera/)
    .waitFor()
  const typical = await widthOnChart()
  await lead(page, '/kit')
  await keepPractice(page)
  await lead(page, '/chart')
  await page.getByRole('button', { name: 'This camera' }).click()
  await page
    .getByRole('status')
    .getByText(/Rests on 1 known heat/)
    .waitFor()
  expect(await widthOnChart()).toBeLessThan(0.6 * typical)
  expect(await axe(page)).toEqual([])

  await lead(page, '/kit')
  const heat = page.locator('.kit-entry_entry', { hasText: 'Thermocouple' })
  expect(await heat.locator('summary').textContent()).toContain('920')

  await page.getByRole('button', { name: 'Test for infrared' }).click()
  await page.getByRole('button', { name: 'Deep red or nothing' }).click()
  await page.getByText(/Infrared filter: passes about 1 part in \d+/).waitFor()
  // A photo of the plate says how much: linear Display P3 of 0.2, 0.027 and 0.059, a leak of 3e-4, in sRGB.
  const plate = writePng(300, 220, (x, y) =>
    Math.abs(x - 150) < 90 && Math.abs(y - 110) < 70 ? [132, 37, 69] : [1, 1, 1],
  )
  await page
    .locator('label', { hasText: 'Judge a photo of the plate' })
    .locator('input')
    .setInputFiles({ name: 'plate.png', mimeType: 'image/png', buffer: Buffer.from(plate) })
  await page.getByText(/^The picture says: passes about 1 part in \d+/).waitFor()
  await page.getByRole('button', { name: 'Keep this result' }).click()
  const told = page.getByText(/^Infrared filter: passes about 1 part in/)
  await expect
    .poll(async () => Number(/1 part in (\d+)/.exec((await told.textContent()) ?? '')?.[1]))
    .toBeLessThan(10_000)

  // A white sheet, two codes greener in its corners: 1.3 % a code at code 170 (sRGB).
  await page.getByRole('button', { name: 'Flat field of the lens' }).click()
  const sheet = writePng(160, 120, (x, y) => {
    const corner = ((x - 79.5) ** 2 + (y - 59.5) ** 2) / 10_000
    return [170, Math.round(170 + 2 * corner + ((x + y) % 2) / 2), 170]
  })
  const sheets = page.locator('label', { hasText: 'Open a photo of the sheet' }).locator('input')
  const open = (name: string, png: Uint8Array) =>
    sheets.setInputFiles({ name, mimeType: 'image/png', buffer: Buffer.from(png) })
  await open('plate.png', plate)
  await page.getByText('The sheet is too dark').waitFor()
  await open('sheet.png', sheet)
  await page.getByText(/^Flat field: corners 2\.\d % greener than the middle/).waitFor()
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])

  await page.getByRole('button', { name: 'Forget it' }).click()
  const flat = page.getByText(/^Flat field: corners/)
  await flat.waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Undo' }).click()
  await flat.waitFor()

  await page.getByRole('button', { name: 'Test the exposure labels' }).click()
  await page
    .locator('label', { hasText: 'Raw photos of one scene' })
    .locator('input')
    .setInputFiles([1 / 30, 1 / 60, 1 / 125].map(exposedScene))
  // 1/30 and 1/60 s are 1/32 and 1/64 s (APEX, Exif 2.32, annex C), 1/125 s is 1/128 s.
  await page.getByText('1/125 s, ISO 100, f/2').waitFor()
  expect(await page.getByLabel('Light over what the label says').textContent()).toMatch(
    /1\/30 s, ISO 100, f\/2[−-]1 ± 2 %/,
  )
  await page.getByRole('button', { name: 'Keep these' }).click()
  await page.getByText(/^Exposure labels: 3 measured/).waitFor()
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])

  const [low, high] = await readPractice(page)
  expect(low).toBeLessThanOrEqual(PRACTICE_K)
  expect(high).toBeGreaterThanOrEqual(PRACTICE_K)

  await page.getByRole('link', { name: 'Kit', exact: true }).click()
  await heat.locator('summary').click()
  await heat.getByRole('button', { name: 'Switch off' }).click()
  await heat.getByText('Off', { exact: true }).waitFor()
  await page.getByRole('link', { name: 'Reading', exact: true }).click()
  await expect
    .poll(async () => (await rangeOf(page))[1] - (await rangeOf(page))[0])
    .toBeGreaterThan(3 * (high - low))
})

test('before it is kept, a known heat shows what it is worth, and its photo survives', async ({
  visit,
}) => {
  const page = await visit('/kit/known-heat/thermocouple')
  await page.getByLabel('It shows, °C').fill('920')
  await openPhoto(page, practice)
  // Without a lock it counts for nothing, and says so.
  await page.getByText('Lock the white balance').waitFor()
  expect(await keep(page).isDisabled()).toBe(true)
  await page.getByLabel('White balance of the photo').selectOption('daylight')
  await settled(page)
  // The surface is asked, not preselected.
  expect(await keep(page).isDisabled()).toBe(true)
  await page.getByLabel('Surface that is read').selectOption('cavity')
  await settled(page)
  expect(await keep(page).isEnabled()).toBe(true)
  const [before, after] = [
    ...((await page.locator('.kit_narrows').textContent()) ?? '').matchAll(/\d+/g),
  ].map(Number)
  expect(after).toBeLessThan((before ?? 0) / 3)
  await page.locator('.plot_plot canvas').waitFor()
  await page.locator('.plot_plot-table summary').click()
  await expect.poll(() => page.locator('.plot_plot-table').textContent()).toContain('This camera')
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])

  // It survives a look at the chart and a reload.
  await page.getByRole('link', { name: 'Chart', exact: true }).click()
  await page.locator('main.chart_chart').waitFor()
  await page.getByRole('link', { name: 'Kit', exact: true }).click()
  await page.getByText('A photo is in hand').waitFor()
  await page.reload()
  await page.getByText('A photo is in hand').waitFor()
  await page.getByRole('link', { name: 'Go on' }).click()
  await settled(page)
  expect(await page.getByLabel('White balance of the photo').inputValue()).toBe('daylight')
  expect(await page.getByLabel('It shows, °C').inputValue()).toBe('920')
  await page.getByRole('button', { name: 'Discard' }).click()
  await page.locator('label:visible', { hasText: 'Open a photo' }).waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await settled(page)
  expect(await page.getByLabel('White balance of the photo').inputValue()).toBe('daylight')
  await page.getByRole('link', { name: 'Kit', exact: true }).click()
  await page.getByRole('button', { name: 'Discard' }).click()
  await page.getByText('A photo is in hand').waitFor({ state: 'detached' })
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.getByText('A photo is in hand').waitFor()
})

test('what was deleted comes back, a name can be changed, a kit is exported, emptied and imported', async ({
  visit,
}) => {
  const page = await visit('/kit')
  await keepPractice(page)
  const entries = page.locator('.kit-entry_entry')
  await entries.first().locator('summary').click()
  await entries.first().getByLabel('Name').fill('Muffle, junction 2')
  await page.getByRole('button', { name: 'Rename' }).click()
  await page.getByText('Renamed.').waitFor()
  await expect.poll(() => entries.first().textContent()).toContain('Muffle, junction 2')
  if (!(await entries.first().getByRole('button', { name: 'Delete' }).isVisible()))
    await entries.first().locator('summary').click()
  await entries.first().getByRole('button', { name: 'Delete' }).click()
  await expect.poll(() => entries.count()).toBe(0)
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect.poll(() => entries.count()).toBe(1)

  const downloading = page.waitForEvent('download')
  await page.getByRole('button', { name: /Export the kit/ }).click()
  const file = await (await downloading).path()
  const text = readFileSync(file, 'utf8')
  expect(JSON.parse(text)).toMatchObject({ version: expect.any(Number) })

  await page.getByRole('button', { name: 'Empty the kit' }).click()
  await expect.poll(() => page.locator('.kit-entry_entry').count()).toBe(0)

  const importReadings = page.locator('label', { hasText: 'Import a kit' }).locator('input')
  await importReadings.setInputFiles({
    name: 'kit.json',
    mimeType: 'application/json',
    buffer: Buffer.from(text),
  })
  await page.getByText(/The file holds/).waitFor()
  await page
    .getByRole('button', { name: /^Bring/ })
    .first()
    .click()
  await expect.poll(() => page.locator('.kit-entry_entry').count()).toBe(1)

  await importReadings.setInputFiles({
    name: 'kit.json',
    mimeType: 'application/json',
    buffer: Buffer.from(text.slice(0, text.length / 2)),
  })
  await page.locator('.notice.stop').waitFor()
  expect(await page.locator('.kit-entry_entry').count()).toBe(1)
})

describe('every page of the kit', () => {
  const pages = [
    '/kit/infrared/Made-up phone',
    '/kit/ready',
    '/kit/ready/lock',
    '/kit/ready/card',
    '/kit/ready/sweep',
    '/kit/ready/heat',
    '/kit/ready/photos',
    '/kit/known-heat',
    '/kit/known-heat/sodium-chloride',
    '/kit/known-heat/magnet-point',
    '/kit/known-heat/crayon',
    '/kit/lamp',
    '/kit/lamp-photo',
    '/kit/lamp/00000000-0000-4000-8000-000000000000',
  ]
  test('stands, is accessible, and fits a phone', async ({ visit }) => {
    const page = await visit()
    for (const place of pages) {
      await lead(page, place)
      await expect
        .poll(() => page.locator(`${screenOnShow} h1`).count(), { message: place })
        .toBe(1)
      expect(await axe(page), place).toEqual([])
      expect(await smallTargets(page), place).toEqual([])
      const width = await page.evaluate(() => document.documentElement.scrollWidth)
      expect(width, place).toBeLessThanOrEqual(390)
    }
  })
})
