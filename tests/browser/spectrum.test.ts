import type { Page } from 'playwright-core'
import { describe } from 'vitest'
import { practiceSpectra } from '../../src/sources/practice/practice-spectra.ts'
import {
  axe,
  cachedForOffline,
  draftNotes,
  expect,
  lead,
  smallTargets,
  standing,
  test,
} from './harness.ts'

const { lamp, glow } = practiceSpectra()
const asFile = (name: string, text: string) => ({
  name,
  mimeType: 'text/csv',
  buffer: Buffer.from(text),
})
/** As another instrument might write it: tabs, decimal commas, micrometres, falling, a bad line. */
function otherwise(text: string): string {
  const [first, second, heading, ...rows] = text.trimEnd().split('\n')
  const turned = rows.toReversed().map((row) => {
    const [nm, ...counts] = row.split(';')
    return [(Number(nm) / 1000).toFixed(6), ...counts].join('\t').replaceAll('.', ',')
  })
  turned.splice(100, 0, '0,7\tlost')
  const headings = [first, second, heading!.replace('(nm)', '(µm)').replaceAll(';', '\t')]
  return [...headings, ...turned].join('\r\n')
}

const choose = (page: Page, ...files: ReturnType<typeof asFile>[]) =>
  page.locator('main:visible input[type=file]').first().setInputFiles(files)
const figure = (page: Page) =>
  page.locator('main:visible .temperature:not(.lamp_lamp) .value').first()
const saveButton = (page: Page) => page.getByRole('button', { name: 'Save reading' })

describe('offline', () => {
  test.override({ offlineUse: true })
  test('two files become a saved reading that can be opened offline', async ({
    visit,
    site,
    context,
  }) => {
    const page = await visit('/')
    await cachedForOffline(page)
    await page.getByRole('link', { name: /Spectrum/ }).click()
    await page.getByRole('heading', { name: 'Spectrum', exact: true }).waitFor()
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])

    await choose(page, asFile('lamp.csv', lamp.text))
    await page.getByText('2 spectra, 1024 rows, 380 to 950 nm').waitFor()
    await page.getByRole('heading', { name: /Trusted from/ }).waitFor()
    await page.getByText(/glass absorbs/).waitFor()
    // Its dark was recognised: there is no word of a missing one.
    expect(await page.getByText('No dark for').count()).toBe(0)
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])

    await page.getByRole('button', { name: 'On to the glow' }).click()
    await choose(page, asFile('glow.txt', otherwise(glow.text)))
    await figure(page).waitFor()
    await page.locator('[class*="file-preview_preview"] summary').click()
    const preview = (await page.locator('[class*="file-preview_preview"]').textContent()) ?? ''
    for (const word of [
      'Tab',
      'Comma 0,5',
      'µm',
      'falling',
      '1 bad line',
      'Line 104: no numbers',
    ]) {
      expect(preview).toContain(word)
    }
    await page.getByRole('combobox', { name: 'Surface' }).selectOption('cavity')
    await expect.poll(async () => Number(await figure(page).textContent())).toBeGreaterThan(1125)
    // 1150 °C is what was simulated; ± 23 °C is what the lamp's ± allows.
    expect(Number(await figure(page).textContent())).toBeLessThan(1175)
    const struck = Number(/\d+/.exec((await page.locator('del').textContent()) ?? '')?.[0])
    expect(struck).toBeGreaterThan(3000)

    for (const name of ['Raw', 'Response', 'Residuals', 'Wien’s line', 'Corrected, with fit']) {
      await page.getByRole('combobox', { name: 'Picture' }).selectOption({ label: name })
      await page.locator('.plot_plot canvas').waitFor()
    }
    await page.getByText('By colour (CIE)').waitFor()
    await page.getByText('More checks', { exact: true }).click()
    await page.getByText('Ratio 550 / 650 nm').waitFor()
    await page.getByText('What the ± is made of').click()
    expect(await axe(page)).toEqual([])
    expect(await smallTargets(page)).toEqual([])

    const shown = await figure(page).textContent()
    await page.getByRole('button', { name: /Name, notes/ }).click()
    await page.getByLabel('Object').fill('test kiln')
    await page.getByRole('button', { name: 'Done' }).click()
    await saveButton(page).click()
    await page.getByText('Saved.', { exact: true }).waitFor()

    await site.down()
    await context.setOffline(true)
    const tomorrow = await context.newPage()
    await tomorrow.goto(`${site.url}/log`)
    const row = tomorrow.locator('.log_log-row').first()
    await row.waitFor()
    expect(await row.textContent()).toContain('test kiln')
    expect(await row.textContent()).not.toContain('Simulated')
    await row.click()
    await tomorrow.locator('main:visible .temperature .value').first().waitFor()
    expect(await tomorrow.locator('main:visible .temperature .value').first().textContent()).toBe(
      shown,
    )
    // The way to the next spectrum needs no network either.
    await tomorrow.goto(`${site.url}/reading/spectrum`)
    await tomorrow.getByRole('button', { name: /Practice spectra/ }).click()
    await tomorrow.getByRole('button', { name: 'On to the glow' }).click()
    await tomorrow.getByText(/inside the stated range/).waitFor()
    await tomorrow.close()
    await context.setOffline(false)
    await site.up()
  })
})

test('a response is kept in the kit and used for the next glow', async ({ visit }) => {
  const page = await visit('/reading/spectrum')
  await page.getByRole('button', { name: /Practice spectra/ }).click()
  await page.getByLabel('Name of the instrument').fill('Bench spectrometer')
  await page.getByText('Set the range by hand').click()
  await page.getByLabel('From, nm').fill('500')
  await page.getByRole('button', { name: 'Keep this response in the kit' }).click()
  await page.getByText('The response is kept in the kit.').waitFor()
  await page.getByRole('button', { name: 'Start over' }).click()
  await page.getByRole('combobox', { name: 'Instrument' }).selectOption({ index: 1 })
  await page.getByText(/Set by hand: 500 to/).waitFor()
  await page.getByRole('button', { name: 'On to the glow' }).click()
  await choose(page, asFile('glow.csv', glow.text))
  await figure(page).waitFor()
  expect(await page.locator('main:visible .tag').textContent()).toBe('Simulated')
  // Nobody has said the surface yet: it is asked before anything is saved.
  await saveButton(page).click()
  const asked = page.getByRole('dialog', { name: 'Name and notes' })
  await asked.getByLabel('Surface').selectOption('cavity')
  await asked.getByRole('button', { name: 'Save reading' }).click()
  await page.getByText('Saved.', { exact: true }).waitFor()
})

test('the kit lists responses: to read with, to reword, to delete and to take back', async ({
  visit,
}) => {
  const page = await visit('/reading/spectrum')
  await page.getByRole('button', { name: /Practice spectra/ }).click()
  await page.getByLabel('Name of the instrument').fill('Bench spectrometer')
  await page.getByLabel(/Settings it holds for/).fill('slit 25 µm')
  await page.getByRole('button', { name: 'Keep this response in the kit' }).click()
  await page.getByText('The response is kept in the kit.').waitFor()
  await page.getByRole('button', { name: 'Start over' }).click()

  await page.getByRole('link', { name: 'Kit', exact: true }).click()
  const list = page.getByRole('region', { name: 'Spectrometers' })
  const entry = list.locator('.kit-entry_entry')
  await entry.locator('summary').click()
  const told = (await entry.textContent()) ?? ''
  for (const word of [
    /slit 25 µm/,
    /Filament lamp2\d{3} ± \d+ K/,
    /\d+ to \d+\snm/,
    /± 0\.\d+ %/,
  ]) {
    expect(told).toMatch(word)
  }
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  await entry.getByLabel(/Settings it holds for/).fill('slit 50 µm')
  await entry.getByRole('button', { name: 'Change', exact: true }).click()
  await list.getByText(/slit 50 µm/).waitFor()
  await entry.getByRole('button', { name: 'Delete' }).click()
  await expect.poll(() => list.count()).toBe(0)
  await page.getByRole('button', { name: 'Undo' }).click()
  await list.locator('summary').click()
  await list.getByRole('button', { name: 'Read a glow with it' }).click()
  await page.getByRole('heading', { name: 'Spectrum', exact: true }).waitFor()
  await choose(page, asFile('glow.csv', glow.text))
  await figure(page).waitFor()
  await page.getByRole('button', { name: '1 Instrument' }).click()
  const chosen = page.getByRole('combobox', { name: 'Instrument' }).locator('option:checked')
  expect(await chosen.textContent()).toContain('Bench spectrometer')
})

test('a pane is divided out by its own table, and a wrong table is told', async ({ visit }) => {
  /** A made-up pane that takes more and more off towards the violet. */
  const pane = (scale: number, fromNm = 350) =>
    Array.from({ length: 1 + (1000 - fromNm) / 10 }, (_, i) => fromNm + 10 * i)
      .map((nm) => `${nm}\t${(scale * (0.9 - 0.25 * Math.exp((400 - nm) / 150))).toFixed(4)}`)
      .join('\n')
  const page = await visit('/reading/spectrum')
  await page.getByRole('button', { name: /Practice spectra/ }).click()
  await page.getByRole('button', { name: 'On to the glow' }).click()
  await figure(page).waitFor()
  const bare = Number(await figure(page).textContent())
  await page.getByRole('combobox', { name: 'In front of the glow' }).selectOption('measured')
  await page.getByText('No transmission table yet').waitFor()
  const give = (name: string, text: string) =>
    page
      .getByRole('region', { name: 'Transmission of the window' })
      .locator('input[type=file]')
      .setInputFiles(asFile(name, text))
  await give('short.txt', pane(1, 600))
  await page.getByText('The table covers 600 to 1000 nm only').waitFor()
  await give('wrong.txt', pane(1.2))
  await page.getByText(/Transmission of 10\d\.\d % at/).waitFor()
  expect(await saveButton(page).isEnabled()).toBe(false)
  await give('pane.txt', pane(100))
  await figure(page).waitFor()
  // The pane makes the glow look redder than it is.
  await expect.poll(async () => Number(await figure(page).textContent())).toBeGreaterThan(bare + 10)
  await page.getByText('What the ± is made of').click()
  await page.locator('.bars').getByText('Glass in front').waitFor()
  expect(await axe(page)).toEqual([])
  expect(await smallTargets(page)).toEqual([])
  const shown = await figure(page).textContent()
  await saveButton(page).click()
  await page.getByText('Saved.', { exact: true }).waitFor()
  await page.getByRole('button', { name: 'Open', exact: true }).click()
  await page.locator('main:visible').getByText('Measured glass').waitFor()
  expect(await page.locator('main:visible .temperature .value').first().textContent()).toBe(shown)
})

test('a saved spectrum is an estimate on the axis, and is computed again for another surface', async ({
  visit,
}) => {
  const page = await visit('/reading/spectrum')
  await choose(page, asFile('lamp.csv', lamp.text))
  await page.getByRole('button', { name: 'On to the glow' }).click()
  await choose(page, asFile('glow.csv', glow.text))
  await figure(page).waitFor()
  await page.getByRole('combobox', { name: 'Surface' }).selectOption('steel-oxidised')
  await page.getByRole('button', { name: /Name, notes/ }).click()
  await page.getByLabel('Object').fill('kiln four')
  await page.getByRole('button', { name: 'Done' }).click()
  const wide = async () =>
    Number(/\d+/.exec((await page.locator('main:visible .plus-minus').first().textContent()) ?? ''))
  await saveButton(page).click()
  await page.getByText('Saved.', { exact: true }).waitFor()

  await lead(page, '/reading/check')
  await page.locator('.check_axis > li', { hasText: /Spectrum.*1\d{3} ± \d+ °C/ }).waitFor()

  await lead(page, '/log')
  await page.locator('.log_log-row', { hasText: 'kiln four' }).click()
  await page.locator('main:visible .plus-minus').first().waitFor()
  const before = await wide()
  await page.getByRole('button', { name: 'Edit', exact: true }).click()
  await page.getByRole('combobox', { name: 'Surface' }).selectOption('cavity')
  await page.getByRole('button', { name: 'Save changes' }).click()
  await page.getByText('The surface is stated otherwise now.').waitFor()
  await page.getByRole('button', { name: 'Keep this figure' }).click()
  // A hole needs no surface: its share of the ± is gone.
  await expect.poll(wide).toBeLessThan(before)
})

test('work in hand survives a reload and a look at the log', async ({ visit }) => {
  const page = await visit('/reading/spectrum')
  await page.getByRole('button', { name: /Practice spectra/ }).click()
  await page.getByRole('button', { name: 'On to the glow' }).click()
  await figure(page).waitFor()
  const shown = await figure(page).textContent()
  await page.getByRole('link', { name: 'Log', exact: true }).click()
  await page.goBack()
  await figure(page).waitFor()
  expect(await figure(page).textContent()).toBe(shown)
  await expect.poll(() => draftNotes(page)).toContain('"step":"glow"')
  await page.reload()
  await standing(page)
  await figure(page).waitFor()
  expect(await figure(page).textContent()).toBe(shown)
})

test('pasted text is read, and nonsense is refused with its line', async ({ visit }) => {
  const page = await visit('/reading/spectrum')
  await choose(page, asFile('photo.jpg', '\u00ff\u00d8\u00ff\u0000\u0001\u0002'))
  await page.getByText(/photo.jpg: this is not plain text, line 1/).waitFor()
  await page.getByRole('button', { name: 'Take it out' }).click()

  await choose(page, asFile('large.csv', '1;2\n'.repeat(1_300_000)))
  await page.getByText('large.csv has 5.2 MB').waitFor()

  const paste = async (text: string) => {
    await page.getByRole('button', { name: 'Paste', exact: true }).click()
    await page.getByRole('textbox', { name: /Wavelength and signal/ }).fill(text)
    await page.getByRole('button', { name: 'Read it' }).click()
  }
  await paste(`Pixel,Counts\n${Array.from({ length: 30 }, (_, i) => `${i},${100 + i}`).join('\n')}`)
  await page.getByText('Pasted text: the first column counts pixels, line 2').waitFor()
  expect(await axe(page)).toEqual([])
  await page.getByRole('button', { name: 'Take it out' }).click()
  await paste(lamp.text)
  await page.getByRole('heading', { name: /Trusted from/ }).waitFor()
})
