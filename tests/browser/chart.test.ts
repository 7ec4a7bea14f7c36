import { readFileSync } from 'node:fs'
import { axe, expect, smallTargets, test } from './harness.ts'

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
    expect(await page.locator('.chart-picture svg text').count()).toBeGreaterThan(10)
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
  expect(svg).toContain('disagree by up to 100 °C')
  const png = page.waitForEvent('download')
  await page.getByRole('button', { name: 'PNG' }).click()
  expect((await png).suggestedFilename()).toBe('heat-colours.png')
})

test('a match by eye is bracketed twice and saved as by eye', async ({ visit }) => {
  const page = await visit('/chart')
  await page.getByRole('button', { name: 'Start a match' }).click()
  const slider = page.getByRole('slider')
  await slider.focus()
  for (let i = 0; i < 3; i++) await page.keyboard.press('Shift+ArrowDown')
  await page.getByRole('button', { name: 'They agree' }).click()
  await slider.focus()
  await page.keyboard.press('Shift+ArrowUp')
  await page.getByRole('button', { name: 'They agree' }).click()
  await page.locator('.temperature .value').waitFor()
  await page.getByLabel('Object').fill('bar matched by eye')
  await page.getByRole('button', { name: /Save as/ }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.getByText('By eye').first().waitFor()
})
