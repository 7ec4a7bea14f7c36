import type { EnginePage } from './driver.ts'

/** What a person does in the app, said once for all engines. */
export interface App {
  open(place?: string): Promise<void>
  /** Presses the first control on show with this name. */
  press(name: string | RegExp): Promise<void>
  choose(label: string, value: string): Promise<void>
  /** Gives files to the file input of the screen on show. */
  giveFiles(files: readonly GivenFile[], accept: string): Promise<void>
  /** Waits until the text stands on the screen. */
  see(text: string | RegExp): Promise<void>
  /** The text of the first element on show that fits and, where a text is wanted, holds it. */
  textOf(selector: string, wanted?: RegExp): Promise<string>
  count(selector: string): Promise<number>
  page: EnginePage
}

export interface GivenFile {
  readonly name: string
  readonly type: string
  readonly bytes: Uint8Array
}

/** In the page: what is on show, by what a person calls it. */
const HELPERS = `
  const shown = (element) => element.checkVisibility
    ? element.checkVisibility({ visibilityProperty: true }) : element.getClientRects().length > 0
  const nameOf = (element) => (element.getAttribute('aria-label') || element.textContent || '').trim()
  const fits = (text, [source, flags]) => flags === null ? text.includes(source) : new RegExp(source, flags).test(text)
  const until = async (look, what) => {
    for (let tries = 0; tries < 400; tries++) {
      const found = look()
      if (found) return found
      await new Promise((done) => setTimeout(done, 100))
    }
    throw new Error('never seen: ' + what + ' in: ' + document.body.innerText.slice(0, 800))
  }
`
const pattern = (text: string | RegExp): [string, string | null] =>
  typeof text === 'string' ? [text, null] : [text.source, text.flags]

export function appIn(page: EnginePage, url: string): App {
  return {
    page,
    async open(place = '/') {
      await page.goto(url + place)
      await page.run(`${HELPERS}
        const standing = () => [...document.querySelectorAll('main:not([aria-busy=true])')].find(shown)
        await until(standing, 'a screen')
        const accept = document.querySelector('.safety_gate button.primary')
        if (accept) {
          accept.click()
          await until(() => !document.querySelector('.safety_gate') && standing(), 'the app')
        }`)
    },
    press: (name) =>
      page.run(
        `${HELPERS}
        const [what] = args
        const find = () => [...document.querySelectorAll('button, a[href], [role=button], summary')]
          .find((e) => shown(e) && !e.disabled && fits(nameOf(e), what))
        ;(await until(find, JSON.stringify(what))).click()`,
        pattern(name),
      ),
    choose: (label, value) =>
      page.run(
        `${HELPERS}
        const [label, value] = args
        const find = () => [...document.querySelectorAll('select')].find((s) => shown(s) &&
          ((s.getAttribute('aria-label') || '') + [...s.labels].map((l) => l.textContent)).includes(label))
        const select = await until(find, label)
        select.value = value
        select.dispatchEvent(new Event('input', { bubbles: true }))
        select.dispatchEvent(new Event('change', { bubbles: true }))`,
        label,
        value,
      ),
    giveFiles: (files, accept) =>
      page.run(
        `${HELPERS}
        const [given, accept] = args
        const transfer = new DataTransfer()
        for (const { name, type, base64 } of given) {
          const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))
          transfer.items.add(new File([bytes], name, { type }))
        }
        const find = () => [...document.querySelectorAll('input[type=file]')].find((i) =>
          (i.accept || '').includes(accept) && (given.length < 2 || i.multiple) && !i.closest('[hidden]'))
        const input = await until(find, 'a file input for ' + accept)
        input.files = transfer.files
        input.dispatchEvent(new Event('change', { bubbles: true }))`,
        files.map(({ name, type, bytes }) => ({
          name,
          type,
          base64: Buffer.from(bytes).toString('base64'),
        })),
        accept,
      ),
    see: (text) =>
      page.run(
        `${HELPERS}
        const [what] = args
        await until(() => fits(document.body.innerText, what), JSON.stringify(what))`,
        pattern(text),
      ),
    textOf: (selector, wanted = /(?:)/) =>
      page.run(
        `${HELPERS}
        const [selector, wanted] = args
        const find = () => [...document.querySelectorAll(selector)]
          .find((e) => shown(e) && fits(e.textContent, wanted))
        return (await until(find, selector)).textContent`,
        selector,
        pattern(wanted),
      ),
    count: (selector) =>
      page.run(
        `${HELPERS}
        return [...document.querySelectorAll(args[0])].filter(shown).length`,
        selector,
      ),
  }
}
