import { KNOWN_HEATS } from '../../src/physics/fixed-points.ts'
import { MATERIALS } from '../../src/physics/materials.ts'
import { JOB_KINDS } from '../../src/session/safety/job.ts'
import { HURTING_HAZARDS, KNOWN_HEAT_HAZARD_WORDS } from '../../src/ui/words/known-heats.ts'
import { JOB_NAMES } from '../../src/ui/words/safety-names.ts'
import {
  CLOSING_CHECKS,
  CONTEXT_CAUTIONS,
  type ContextCaution,
  FIRST_AID,
  JOB_CHECKS,
  SAFETY_SOURCES,
  SURFACE_HAZARD_WORDS,
} from '../../src/ui/words/safety-statements.data.ts'
import { axe, expect, lead, smallTargets, test } from './harness.ts'

test('each kind of work has at most eight checks with reasons, and goes into the log', async ({
  visit,
}) => {
  const page = await visit('/safety')
  for (const kind of JOB_KINDS) {
    const checks = JOB_CHECKS[kind]
    expect(checks.length).toBeLessThanOrEqual(8)
    await page.getByRole('button', { name: JOB_NAMES[kind], exact: true }).click()
    await page.getByRole('heading', { name: `${JOB_NAMES[kind]}: 0 of ${checks.length}` }).waitFor()
    const shown = await page.locator('.safety_checks > li').evaluateAll((items) =>
      items.map((item) => ({
        text: item.querySelector('label span')?.textContent ?? '',
        why: item.querySelector('details p')?.textContent ?? '',
      })),
    )
    expect(shown).toEqual(
      checks.map(({ text, why, source }) => ({ text, why: `${why} ${SAFETY_SOURCES[source]}.` })),
    )
    await page.getByLabel(checks[0]!.text, { exact: true }).check()
    if (kind === 'mains element') {
      await page.getByLabel('A check of your own').fill('Fume hood on')
      await page.getByRole('button', { name: 'Add', exact: true }).click()
      await page.getByRole('checkbox', { name: 'Fume hood on' }).check()
    }
    await page.getByRole('button', { name: 'End of work' }).click()
    await page.getByLabel(CLOSING_CHECKS[0]!.text, { exact: true }).check()
    if (kind === 'mains element') {
      expect(await smallTargets(page)).toEqual([])
      expect(await axe(page)).toEqual([])
    }
    await page.getByRole('button', { name: 'Close the job' }).click()
  }
  await page.getByRole('button', { name: JOB_NAMES['mains element'], exact: true }).waitFor()
  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await page.getByText(JOB_NAMES['mains element']).first().click()
  for (const text of [
    JOB_CHECKS['mains element'][0]!.text,
    'Fume hood on',
    CLOSING_CHECKS[0]!.text,
  ])
    await page.getByText(`[x] ${text}`).waitFor()
})

test('a fire watch keeps its deadline in another tab and over a killed browser, and ends in the log', async ({
  context,
  visit,
}) => {
  await context.clock.install({ time: new Date('2026-03-01T10:00:00Z') })
  const first = await visit('/safety')
  await first.getByText('Another length').click()
  await first.getByLabel('Minutes').fill('10')
  await first.getByRole('button', { name: 'Start 10 minutes' }).click()
  await first.getByText('Below 30 minutes only with a reason').waitFor()
  await first.getByLabel('Reason, where below 30').fill('outdoors, on wet sand')
  await first.getByRole('button', { name: 'Start 10 minutes' }).click()
  await first.getByText('End it now').click()
  await first.getByLabel('Reason; it is kept in the log').fill('started in vain')
  await first.getByRole('button', { name: 'End the watch' }).click()
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
  await page.getByText('In the log.').waitFor()
  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await expect.poll(() => page.getByText('Fire watch').count()).toBeGreaterThanOrEqual(2)
  await page.getByText('Fire watch').last().click()
  await page.getByText('Shortened: started in vain.').waitFor()
})

test('every surface shows its own cautions beside the picker', async ({ visit }) => {
  const page = await visit('/chart')
  const shown = await page.evaluate(async () => {
    for (const one of document.querySelectorAll('main details'))
      (one as HTMLDetailsElement).open = true
    const found: [string, string][] = []
    const main = [...document.querySelectorAll('main')].find((one) => one.checkVisibility())!
    const picker = [...main.querySelectorAll('select')].find(({ labels }) =>
      [...labels].some(({ textContent }) => textContent?.startsWith('Surface')),
    )!
    for (const { value } of picker.options) {
      picker.value = value
      picker.dispatchEvent(new Event('change', { bubbles: true }))
      // Drawn by the second frame.
      await new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)))
      found.push([value, main.textContent ?? ''])
    }
    return found
  })
  expect(shown.length).toBeGreaterThan(5)
  for (const [id, text] of shown)
    for (const hazard of MATERIALS.find((material) => material.id === id)?.hazards ?? [])
      expect(text, id).toContain(SURFACE_HAZARD_WORDS[hazard].text)
})

test('lamp, known heat, live camera and mains bring their cautions', async ({ visit }) => {
  const page = await visit('/kit/lamp')
  const told = (caution: ContextCaution) =>
    page.locator('main:visible').getByText(CONTEXT_CAUTIONS[caution].text)
  await page.getByRole('button', { name: 'Volts', exact: true }).click()
  await page.getByLabel('Rated volts, V').fill('230')
  await page.getByLabel('Volts now, V').fill('240')
  await told('lamp over').waitFor()
  await page.getByLabel('Volts now, V').fill('220')
  await told('lamp over').waitFor({ state: 'detached' })
  for (const { id, hazards } of KNOWN_HEATS.slice(0, 2)) {
    await lead(page, `/kit/known-heat/${id}`)
    for (const hazard of hazards.filter((one) => HURTING_HAZARDS.has(one)))
      await page.getByText(KNOWN_HEAT_HAZARD_WORDS[hazard]).first().waitFor()
  }
  await lead(page, '/reading/live')
  await told('live camera').waitFor()
  await page.getByRole('link', { name: 'Checks before the work' }).waitFor()
  await lead(page, '/reading/check')
  await page.getByLabel('Ask').selectOption('supply')
  await told('supply check').waitFor()
  await told('mains supply').waitFor()
})

test('how near, how long: the published limits for a bar at 900 °C', async ({ visit }) => {
  const page = await visit('/safety/distance')
  await page.getByText('the eye’s limit is reached in about 2 min').waitFor()
  await page.getByText('All day only beyond 0.98 m.').waitFor()
  await page.getByText('the surface sends 107.4 kW/m², 38.7 % of it').waitFor()
  await page.getByRole('row', { name: '0.5 m 381 W/m² 2 min' }).waitFor()
  await page.getByLabel('Temperature, °C').fill('1200')
  await page.getByRole('row', { name: '0.5 m 1348 W/m² 32 s' }).waitFor()
  await page.getByText('All day only beyond 1.84 m.').waitFor()
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
