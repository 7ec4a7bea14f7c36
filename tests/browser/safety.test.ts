import type { Locator, Page } from 'playwright-core'
import { MATERIALS } from '../../src/physics/materials.ts'
import { JOB_KINDS } from '../../src/session/safety/job.ts'
import { JOB_NAMES } from '../../src/ui/words/safety-names.ts'
import {
  CLOSING_CHECKS,
  CONTEXT_CAUTIONS,
  FIRST_AID,
  JOB_CHECKS,
  SAFETY_SOURCES,
  SURFACE_HAZARD_WORDS,
} from '../../src/ui/words/safety-statements.data.ts'
import { axe, expect, smallTargets, test } from './harness.ts'

test('each kind of work has at most eight checks, ticked by large targets, in the log at its end', async ({
  visit,
}) => {
  const page = await visit('/safety')
  for (const kind of JOB_KINDS) {
    expect(JOB_CHECKS[kind].length).toBeLessThanOrEqual(8)
    await page.getByRole('button', { name: JOB_NAMES[kind], exact: true }).waitFor()
  }
  await page.getByRole('button', { name: JOB_NAMES['mains element'], exact: true }).click()
  for (const { text } of JOB_CHECKS['mains element'])
    await page.getByLabel(text, { exact: true }).check()
  await page.getByRole('button', { name: 'End of work' }).click()
  await page.getByLabel(CLOSING_CHECKS[0]!.text, { exact: true }).check()
  expect(await smallTargets(page)).toEqual([])
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Close the job' }).click()
  await page.getByText('Written into the log.').waitFor()
  await page.goto('/log')
  await page.getByText(JOB_NAMES['mains element']).first().click()
  await page.getByText(`[x] ${CLOSING_CHECKS[0]!.text}`).waitFor()
})

test('a fire watch keeps its deadline in another tab and over a killed browser, and ends in the log', async ({
  context,
  visit,
}) => {
  await context.clock.install({ time: new Date('2026-03-01T10:00:00Z') })
  const first = await visit('/safety')
  await first.getByRole('button', { name: 'Start 60 minutes' }).click()
  await first.getByRole('timer').waitFor()
  await expect.poll(() => first.getByRole('timer').textContent()).toContain('1:00:00')
  const other = await visit('/chart')
  await other.getByText(/Fire watch 1:00:00|Fire watch 59:5/).waitFor()
  // Killed at once: no page is left that could have kept the count.
  await first.close()
  await other.close()
  await context.clock.fastForward('20:00')
  const page = await visit('/safety')
  await expect.poll(() => page.getByRole('timer').textContent()).toMatch(/^(40:00|39:5\d)$/)
  await page.getByText('Look round now, then tap.').waitFor()
  await page.getByRole('button', { name: 'Looked round (0)' }).click()
  await page.getByRole('button', { name: 'Looked round (1)' }).waitFor()
  await context.clock.fastForward('41:00')
  await page.getByRole('button', { name: /All quiet/ }).click()
  await page.getByText('Written into the log.').waitFor()
  await page.goto('/log')
  await page.getByText('Fire watch').first().waitFor()
})

test('below half an hour a watch starts only with a reason', async ({ visit }) => {
  const page = await visit('/safety')
  await page.getByText('Another length').click()
  await page.getByLabel('Minutes').fill('10')
  await page.getByRole('button', { name: 'Start 10 minutes' }).click()
  await page.getByText('Below 30 minutes only with a reason').waitFor()
  await page.getByLabel('Reason, where below 30').fill('outdoors, on wet sand')
  await page.getByRole('button', { name: 'Start 10 minutes' }).click()
  await page.getByRole('timer').waitFor()
})

test('every surface shows its own cautions beside the picker', async ({ visit }) => {
  const page = await visit('/chart')
  await page.locator('main:visible details').evaluateAll((all) => {
    for (const one of all) (one as HTMLDetailsElement).open = true
  })
  const picker = page.getByLabel('Surface').first()
  await picker.waitFor()
  const offered = await picker
    .locator('option')
    .evaluateAll((options) => options.map((option) => (option as HTMLOptionElement).value))
  for (const { id, hazards } of MATERIALS.filter((material) => offered.includes(material.id))) {
    await picker.selectOption(id)
    for (const hazard of hazards)
      expect(await page.getByText(SURFACE_HAZARD_WORDS[hazard].text).count()).toBeGreaterThan(0)
  }
})

test('how near, how long: the published limits for a bar at 900 °C', async ({ visit }) => {
  const page = await visit('/safety/distance')
  await page.getByText('the eye’s limit is reached in about 3 min').waitFor()
  await page.getByText('All day only beyond 1.0 m.').waitFor()
  expect(await axe(page)).toEqual([])
})

test('every statement stands on one page with its source', async ({ visit }) => {
  const page = await visit('/safety/statements')
  const text = (await page.locator('main:visible').textContent()) ?? ''
  const all = [
    ...Object.values(JOB_CHECKS).flat(),
    ...CLOSING_CHECKS,
    ...Object.values(SURFACE_HAZARD_WORDS),
    ...Object.values(CONTEXT_CAUTIONS),
    ...FIRST_AID,
  ]
  for (const { text: statement, source } of all) {
    expect(text).toContain(statement)
    expect(text).toContain(SAFETY_SOURCES[source])
  }
  // Nothing says that something is safe.
  expect(all.filter(({ text: statement }) => /\bsafe\b/i.test(statement))).toEqual([])
})

/** Relative luminance of what the page or a part of it shows, mean over its pixels, 0..1 (WCAG 2.2). */
async function meanLuminance(of: Page | Locator): Promise<number> {
  const png = (await of.screenshot({ scale: 'css' })).toString('base64')
  const page = 'page' in of ? of.page() : of
  return page.evaluate(async (data) => {
    const bytes = Uint8Array.from(atob(data), (c) => c.charCodeAt(0))
    const picture = await createImageBitmap(new Blob([bytes], { type: 'image/png' }))
    const context = new OffscreenCanvas(picture.width, picture.height).getContext('2d')!
    context.drawImage(picture, 0, 0)
    const codes = context.getImageData(0, 0, picture.width, picture.height).data
    const linear = (code: number) => {
      const v = code / 255
      return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4
    }
    let sum = 0
    for (let i = 0; i < codes.length; i += 4)
      sum +=
        0.2126 * linear(codes[i]!) + 0.7152 * linear(codes[i + 1]!) + 0.0722 * linear(codes[i + 2]!)
    return (4 * sum) / codes.length
  }, png)
}

const SCREENS = [
  '/',
  '/chart',
  '/log',
  '/kit',
  '/safety',
  '/reading/live',
  '/reading/check',
] as const

test('in the dark shop no screen is brighter than 0.012 of white, and all pass axe', async ({
  visit,
}) => {
  const page = await visit('/safety')
  await page.getByRole('button', { name: 'Dark shop', exact: true }).click()
  for (const place of SCREENS) {
    await page.goto(place)
    await page.locator('main:visible:not([aria-busy=true])').first().waitFor()
    expect(await meanLuminance(page), place).toBeLessThanOrEqual(0.012)
    expect(await axe(page), place).toEqual([])
  }
})

test('a message is half as bright as a page in the dark shop, and nowhere white in the dark', async ({
  visit,
}) => {
  const page = await visit('/safety')
  for (const look of ['Dark', 'Dark shop']) {
    await page.getByRole('button', { name: look, exact: true }).click()
    await page.getByRole('button', { name: JOB_NAMES.lamp, exact: true }).click()
    await page.getByRole('button', { name: 'End of work' }).click()
    await page.getByRole('button', { name: 'Close the job' }).click()
    const message = page.locator('.word')
    await message.getByText('Written into the log.').waitFor()
    const bright = await meanLuminance(message)
    await page.getByRole('button', { name: 'Close this message' }).click()
    await message.waitFor({ state: 'detached' })
    expect(bright, look).toBeLessThanOrEqual(
      look === 'Dark' ? 0.05 : 0.5 * (await meanLuminance(page)),
    )
  }
})

test('live in the dark shop: recording, hold and target band in reach, targets for gloves', async ({
  visit,
}) => {
  const page = await visit('/safety')
  await page.getByRole('button', { name: 'Dark shop', exact: true }).click()
  await page.goto('/reading/live')
  await page.getByRole('button', { name: /Practice bench/ }).click()
  await page.locator('.temperature .plus-minus').first().waitFor()
  const main = [
    page.getByRole('button', { name: 'Save', exact: true }),
    page.getByRole('button', { name: 'Hold', exact: true }),
    page.getByRole('button', { name: 'Record heat over time' }),
    page.locator('summary', { hasText: 'Target band' }),
  ]
  for (const [width, height, footPx] of [
    [390, 844, 64],
    [844, 390, 0],
  ] as const) {
    await page.setViewportSize({ width, height })
    await page.evaluate(() => scrollTo(0, 0))
    for (const one of main) {
      const box = (await one.boundingBox())!
      expect(box.height).toBeGreaterThanOrEqual(72)
      // The thumb of a hand that holds the phone: the lower half upright, all of it sideways.
      expect(box.y).toBeGreaterThanOrEqual(height > width ? height / 2 : 0)
      expect(box.y + box.height).toBeLessThanOrEqual(height - footPx)
    }
    expect(await smallTargets(page, 56)).toEqual([])
  }
  expect(await axe(page)).toEqual([])
})

test('the bench theme passes axe', async ({ visit }) => {
  const page = await visit('/safety')
  await page.getByRole('button', { name: 'Bench', exact: true }).click()
  for (const place of SCREENS) {
    await page.goto(place)
    await page.locator('main:visible:not([aria-busy=true])').first().waitFor()
    expect(await axe(page), place).toEqual([])
  }
})
