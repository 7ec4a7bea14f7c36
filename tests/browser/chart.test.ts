import { readFileSync } from 'node:fs'
import type { Page } from 'playwright-core'
import { show, trackState, watchTrack } from './camera-page.ts'
import { axe, expect, lead, smallTargets, test } from './harness.ts'
import { practice } from './practice-kit.ts'

test('the chart is read by keyboard, by table and in every view', async ({ visit }) => {
  const page = await visit('/chart')
  const slider = page.getByRole('slider')
  await slider.focus()
  const before = Number(await slider.getAttribute('aria-valuenow'))
  await page.keyboard.press('ArrowUp')
  await expect.poll(async () => Number(await slider.getAttribute('aria-valuenow'))).toBe(before + 5)
  for (const view of ['Hue only', 'This camera', 'Dark shop']) {
    await page.getByRole('button', { name: view }).click()
    await page.locator('canvas').first().waitFor()
  }
  for (const marks of ['work', 'heats', 'limits', 'names']) {
    await page.getByRole('combobox', { name: 'Beside the colours' }).selectOption(marks)
    expect(await page.locator('.chart_chart-picture svg text').count()).toBeGreaterThan(10)
  }
  await page.getByText('The chart as a table').click()
  // As printed: Chapman's cherry red is 815 to 870 °C, Stirling's full cherry 900 °C.
  const row = page.getByRole('row', { name: /^850 °C/ })
  expect(await row.textContent()).toContain('cherry red')
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
})

test('the chart leaves as SVG with date, method and caution', async ({ visit }) => {
  const page = await visit('/chart')
  const download = page.waitForEvent('download')
  await page.getByRole('button', { name: 'SVG' }).click()
  const path = await (await download).path()
  const svg = readFileSync(path, 'utf8')
  expect(svg).toContain('<svg')
  expect(svg).toMatch(/\d{4}-\d\d-\d\d/)
  expect(svg).toContain('cherry red')
  // Its lines are broken; what they say is not.
  const said = svg.replace(/<[^>]*>/g, ' ').replace(/\s+/g, ' ')
  expect(said).toContain('disagree by up to 100 °C')
  expect(said).toContain('Surface: not said, taken as grey. Room: dark shop')
  const png = page.waitForEvent('download')
  await page.getByRole('button', { name: 'PNG' }).click()
  expect((await png).suggestedFilename()).toBe('heat-colours.png')
})

/** The surface is asked before the first match. */
async function say(page: Page, surface: string): Promise<void> {
  const asked = page.getByRole('dialog', { name: 'Before the match' })
  await asked.getByLabel('Surface').selectOption(surface)
  await asked.getByRole('button', { name: 'Go on' }).click()
}

const agree = (page: Page) => page.getByRole('button', { name: 'They agree' })

/** Boxes of what a match needs, all of them inside what is seen without scrolling. */
async function seenTogether(page: Page, selectors: readonly string[]): Promise<void> {
  const { width, height } = page.viewportSize()!
  for (const selector of selectors) {
    const box = (await page.locator(selector).first().boundingBox())!
    expect(box.x, selector).toBeGreaterThanOrEqual(0)
    expect(box.y, selector).toBeGreaterThanOrEqual(0)
    expect(box.x + box.width, selector).toBeLessThanOrEqual(width + 0.5)
    const nav = await page.locator('.nav').boundingBox()
    const bottom = nav && nav.width > nav.height ? nav.y : height
    expect(box.y + box.height, selector).toBeLessThanOrEqual(bottom + 0.5)
  }
  expect(await page.evaluate(() => document.documentElement.scrollHeight <= innerHeight)).toBe(true)
}

test('a match by eye is bracketed twice, saved as by eye, and stands beside measured readings', async ({
  visit,
}) => {
  const page = await visit('/log/by-hand')
  await page.getByLabel('Object').fill('bar matched by eye')
  await page.getByLabel(/^Temperature/).fill('905')
  await page.getByLabel(/^±|^Uncertainty/).fill('20')
  await page.getByRole('button', { name: /^Save/ }).click()
  await page.locator('main.entry .temperature').waitFor()
  await lead(page, '/chart')
  await page.getByRole('button', { name: 'Against the piece itself' }).click()
  await say(page, 'steel-oxidised')
  const slider = page.getByRole('slider')
  await slider.focus()
  for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowDown')
  await agree(page).click()
  await slider.focus()
  await page.keyboard.press('Shift+ArrowUp')
  await agree(page).click()
  await page.locator('.temperature .value').waitFor()
  await page.getByLabel('Object').fill('bar matched by eye')
  await page.getByText('Measured, beside it').waitFor()
  await page.getByRole('link', { name: '905 ± 20 °C' }).waitFor()
  await page.getByRole('button', { name: 'Save reading' }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.getByText('By eye').first().waitFor()
  // And the other way round: beside the measured one stands the one by eye.
  await page.getByRole('link', { name: '905 ± 20 °C' }).click()
  await page.getByText('By eye, beside it').waitFor()
})

for (const [name, viewport] of [
  ['upright', { width: 390, height: 844 }],
  ['lying', { width: 844, height: 390 }],
] as const)
  test(`on a phone held ${name} picture, swatch, strip and button are seen together`, async ({
    visit,
  }) => {
    const page = await visit('/chart')
    await page.setViewportSize(viewport)
    const parts = [
      '.chart_patch',
      '.chart_match-strip',
      '.chart_match-strip .chart_pointer',
      '.chart_match-agree .chart_agree',
    ]
    await page.getByRole('button', { name: 'Against the piece itself' }).click()
    await say(page, 'steel-oxidised')
    await seenTogether(page, parts)
    await page.getByRole('button', { name: 'Stop' }).click()
    await page
      .locator('label', { hasText: /^A photo$/ })
      .locator('input')
      .setInputFiles(practice)
    await page.getByAltText(/hold against the chart/).waitFor()
    await lookedAtMatch(page)
    await seenTogether(page, [...parts, '.chart_beside-picture'])
    // A tap brings the glow closer, and the swatch takes its brightness.
    const colour = () => page.locator('.chart_patch').evaluate((patch) => patch.style.background)
    const before = await colour()
    await page.getByRole('button', { name: 'Closer' }).click()
    await expect.poll(colour).not.toBe(before)
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])
  })

/** In a match the range stands at the pointer. */
const lookedAtMatch = (page: Page) => page.getByText(/Camera counted in/).waitFor()

const live = (page: Page) => page.getByRole('button', { name: 'Live picture' }).click()

test('a live picture stands beside the chart; its camera goes off when it is stopped, left or hidden', async ({
  visit,
}) => {
  const page = await visit('/chart')
  await watchTrack(page)
  await live(page)
  await say(page, 'not-known')
  await page.locator('.chart_beside-picture video').waitFor()
  // This camera offers no lock: said, and what is left open is wide.
  await page.getByText('White balance is not locked').waitFor()
  await lookedAtMatch(page)
  await seenTogether(page, [
    '.chart_beside-picture',
    '.chart_patch',
    '.chart_match-strip',
    '.chart_match-agree .chart_agree',
  ])
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Stop' }).click()
  expect(await trackState(page)).toBe('ended')

  await live(page)
  await page.locator('.chart_beside-picture video').waitFor()
  await agree(page).click()
  await show(page, 'hidden')
  expect(await trackState(page)).toBe('ended')
  await show(page, 'visible')
  await page.locator('.chart_beside-picture video').waitFor()
  expect(await trackState(page)).toBe('live')
  // The bracket has not begun anew.
  await page.getByText('2 of 2').waitFor()

  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await page.locator('main.log_log').waitFor()
  expect(await trackState(page)).toBe('ended')
})

test('a camera that is refused or missing is told as on the live screen', async ({ visit }) => {
  const page = await visit('/chart')
  for (const [name, sentence] of [
    ['NotAllowedError', 'The camera was not allowed'],
    ['NotFoundError', 'No camera found'],
    ['NotReadableError', 'The camera is busy'],
  ] as const) {
    await page.evaluate((error) => {
      navigator.mediaDevices.getUserMedia = () => Promise.reject(new DOMException('no', error))
    }, name)
    await live(page)
    if (name === 'NotAllowedError') await say(page, 'not-known')
    await page.getByText(sentence).waitFor()
  }
  expect(await axe(page)).toEqual([])
})

test('a match with the practice bench is kept as simulated', async ({ visit }) => {
  const page = await visit('/chart')
  await page.getByRole('button', { name: 'Practice (simulated)' }).click()
  await say(page, 'grey-body')
  await page.getByText('Simulated', { exact: true }).waitFor()
  await page.getByText('White balance locked on 6500 K.').waitFor()
  await lookedAtMatch(page)
  await agree(page).click()
  await agree(page).click()
  await page.getByText('What the camera stores').waitFor()
  await page.getByRole('button', { name: 'Save reading' }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page
    .locator('main.log_log')
    .getByText(/Simulated/)
    .first()
    .waitFor()
})
