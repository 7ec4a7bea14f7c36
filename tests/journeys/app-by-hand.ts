import { readFile } from 'node:fs/promises'
import type { Download, Locator, Page } from 'playwright-core'
import { standing } from '../browser/browser.ts'
import type { App } from './app.ts'

/** The app in a page of Chromium, used as by a hand: what is covered, moves or is off cannot be pressed. */
export function appByHand(page: Page, url = ''): App {
  const left: Download[] = []
  page.on('download', (file) => left.push(file))
  let caught = 0
  const onShow = (found: Locator) => found.filter({ visible: true }).first()
  return {
    async open(place = '/') {
      await page.goto(url + place)
      await standing(page)
    },
    press: (name) =>
      onShow(
        page
          .getByRole('button', { name })
          .or(page.getByRole('link', { name }))
          .or(page.locator('summary', { hasText: name })),
      ).click(),
    choose: async (label, value) =>
      void (await onShow(page.locator('select').and(page.getByLabel(label))).selectOption(value)),
    fill: (label, text) => onShow(page.getByLabel(label)).fill(text),
    giveFiles: (files, called) =>
      page
        .locator(`input[type=file][accept*="${called}"]`)
        .or(page.locator('label', { hasText: called }).locator('input[type=file]'))
        .and(page.locator(`:not([hidden] *)${files.length > 1 ? '[multiple]' : ''}`))
        .first()
        .setInputFiles(
          files.map(({ name, type, bytes }) => ({
            name,
            mimeType: type,
            buffer: Buffer.from(bytes),
          })),
        ),
    catchFiles: async () => {},
    async leftFile() {
      const file = left[caught] ?? (await page.waitForEvent('download'))
      caught++
      return {
        name: file.suggestedFilename(),
        type: '',
        bytes: new Uint8Array(await readFile(await file.path())),
      }
    },
    see: (text) => onShow(page.getByText(text)).waitFor(),
    textOf: async (selector, wanted = /(?:)/) =>
      (await onShow(page.locator(selector, { hasText: wanted })).textContent()) ?? '',
    count: (selector) => page.locator(selector).filter({ visible: true }).count(),
    run: (body, ...args) =>
      page.evaluate(`(async (...args) => {${body}})(...${JSON.stringify(args)})`),
  }
}
