import { slowness } from '../../scripts/machine-speed.mjs'
import type { App } from '../journeys/app.ts'
import type { EnginePage } from './driver.ts'

/** In the page: what is on show, by what a person calls it. */
const HELPERS = `
  const shown = (element) => element.checkVisibility
    ? element.checkVisibility({ visibilityProperty: true }) : element.getClientRects().length > 0
  const nameOf = (element) => (element.getAttribute('aria-label') || element.textContent || '').trim()
  const fits = (text, [source, flags]) => flags === null ? text.includes(source) : new RegExp(source, flags).test(text)
`
const pattern = (text: string | RegExp): [string, string | null] =>
  typeof text === 'string' ? [text, null] : [text.source, text.flags]

const TRIES = 100 * slowness()
const BETWEEN_MS = 400
const pause = () => new Promise((done) => setTimeout(done, BETWEEN_MS))

/** The app used by scripts in its page: all that every driver can do. */
export function appByScript(page: EnginePage, url: string): App {
  /**
   * Looks again and again until the body returns something. The waiting is done here, not in the page,
   * and with pauses in which its parts can load: see SETTLED_MS in driver.ts.
   */
  async function until<T>(what: string, body: string, ...args: unknown[]): Promise<T> {
    for (let tries = 0; tries < TRIES; tries++) {
      const found = await page.run<T | null>(`${HELPERS}${body}`, ...args)
      if (found !== null && found !== undefined && found !== false) return found
      await pause()
    }
    const text = await page.run<string>('return document.body.innerText.slice(0, 800)')
    throw new Error(`never seen: ${what} in: ${text}`)
  }
  const standing = () =>
    until(
      'a screen',
      "return [...document.querySelectorAll('main:not([aria-busy=true])')].some(shown)",
    )
  return {
    run: page.run,
    async open(place = '/') {
      await page.goto(url + place)
      await standing()
      const asked = await page.run<boolean>(`
        const accept = document.querySelector('.safety_gate button.primary')
        accept?.click()
        return accept !== null`)
      if (!asked) return
      await until('the app', "return !document.querySelector('.safety_gate')")
      await standing()
    },
    press: async (name) =>
      void (await until(
        `a control ${name}`,
        `const [what] = args
        const found = [...document.querySelectorAll('button, a[href], [role=button], summary')]
          .find((e) => shown(e) && !e.disabled && fits(nameOf(e), what))
        found?.click()
        return Boolean(found)`,
        pattern(name),
      )),
    choose: async (label, value) =>
      void (await until(
        label,
        `const [label, value] = args
        const select = [...document.querySelectorAll('select')].find((s) => shown(s) &&
          ((s.getAttribute('aria-label') || '') + [...s.labels].map((l) => l.textContent)).includes(label))
        if (!select) return false
        select.value = value
        select.dispatchEvent(new Event('input', { bubbles: true }))
        select.dispatchEvent(new Event('change', { bubbles: true }))
        return true`,
        label,
        value,
      )),
    fill: async (label, text) =>
      void (await until(
        label,
        `const [label, text] = args
        const input = [...document.querySelectorAll('input, textarea')].find((i) => shown(i) &&
          ((i.getAttribute('aria-label') || '') + [...(i.labels || [])].map((l) => l.textContent)).includes(label))
        if (!input) return false
        input.value = text
        input.dispatchEvent(new Event('input', { bubbles: true }))
        input.dispatchEvent(new Event('change', { bubbles: true }))
        return true`,
        label,
        text,
      )),
    catchFiles: () =>
      page.run(`
        globalThis.left = []
        const make = URL.createObjectURL
        const blobs = new Map()
        URL.createObjectURL = (blob) => {
          const url = make.call(URL, blob)
          blobs.set(url, blob)
          return url
        }
        // No share sheet and no dialog of the browser: there is nobody to answer them.
        Object.defineProperty(navigator, 'canShare', { value: undefined, configurable: true })
        HTMLAnchorElement.prototype.click = function () {
          if (this.download) globalThis.left.push({ name: this.download, blob: blobs.get(this.href) })
          else this.dispatchEvent(new MouseEvent('click', { bubbles: true, cancelable: true }))
        }`),
    async leftFile() {
      const { base64, ...file } = await until<{ name: string; type: string; base64: string }>(
        'a file that leaves',
        `const left = globalThis.left.shift()
        if (!left) return null
        const bytes = new Uint8Array(await left.blob.arrayBuffer())
        let text = ''
        for (const byte of bytes) text += String.fromCharCode(byte)
        return { name: left.name, type: left.blob.type, base64: btoa(text) }`,
      )
      return { ...file, bytes: new Uint8Array(Buffer.from(base64, 'base64')) }
    },
    giveFiles: async (files, called) =>
      void (await until(
        `a file input for ${called}`,
        `const [given, called] = args
        const input = [...document.querySelectorAll('input[type=file]')].find((i) =>
          ((i.accept || '').includes(called) || [...i.labels].some((l) => l.textContent.includes(called))) &&
          (given.length < 2 || i.multiple) && !i.closest('[hidden]'))
        if (!input) return false
        const transfer = new DataTransfer()
        for (const { name, type, base64 } of given) {
          const bytes = Uint8Array.from(atob(base64), (c) => c.charCodeAt(0))
          transfer.items.add(new File([bytes], name, { type }))
        }
        input.files = transfer.files
        input.dispatchEvent(new Event('change', { bubbles: true }))
        return true`,
        files.map(({ name, type, bytes }) => ({
          name,
          type,
          base64: Buffer.from(bytes).toString('base64'),
        })),
        called,
      )),
    see: async (text) =>
      void (await until(
        `the text ${text}`,
        'return fits(document.body.innerText, args[0])',
        pattern(text),
      )),
    textOf: (selector, wanted = /(?:)/) =>
      until(
        selector,
        `const [selector, wanted] = args
        const found = [...document.querySelectorAll(selector)]
          .find((e) => shown(e) && fits(e.textContent, wanted))
        return found ? found.textContent : null`,
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
