import type { Page } from 'playwright-core'
import { axe, expect, smallTargets, test } from './harness.ts'

const practice = (page: Page) => page.getByRole('button', { name: /Practice bench/ }).click()

/** Records on the practice bench until its button shows a time. */
async function record(page: Page, seconds: number): Promise<void> {
  await practice(page)
  await page.locator('.live_live-readout .plus-minus').waitFor()
  await page.getByRole('button', { name: 'Record heat over time' }).click()
  await page.getByRole('button', { name: `End recording 0:0${seconds}` }).waitFor()
}

test('a recording runs on behind other screens, says so, and lies in the log when it ends', async ({
  visit,
}) => {
  const page = await visit('/reading/live')
  await record(page, 3)
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
  await page.locator('main:visible li').first().waitFor()
  expect(await axe(page)).toEqual([])
})

test('a deleted recording comes back by undo', async ({ visit }) => {
  const page = await visit('/reading/live')
  await record(page, 2)
  await page.getByRole('button', { name: /End recording/ }).click()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.getByRole('button', { name: 'Delete' }).click()
  await page.getByText('Record live, or open a video').waitFor()
  await page.getByRole('button', { name: 'Undo' }).click()
  await page.locator('main:visible li').first().waitFor()
})

test('a file that is no video is refused in words', async ({ visit }) => {
  const page = await visit('/log/recordings%2Fvideo')
  await page
    .locator('main:visible input[type=file]')
    .setInputFiles({ name: 'note.mp4', mimeType: 'video/mp4', buffer: Buffer.from('no video') })
  await page.getByText('No video in this file').waitFor()
  expect(await axe(page)).toEqual([])
})
