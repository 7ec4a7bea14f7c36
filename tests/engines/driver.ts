import { type ChildProcess, execFileSync, spawn } from 'node:child_process'
import { existsSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { createServer } from 'node:net'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { chromium } from 'playwright-core'
import puppeteer from 'puppeteer-core'
import { browserFlags, ensureBrowser } from '../../scripts/find-browser.mjs'
import { slowness } from '../../scripts/machine-speed.mjs'
import type { App } from '../journeys/app.ts'
import { appByHand } from '../journeys/app-by-hand.ts'
import { appByScript } from './app-by-script.ts'

/** One page of one engine, driven by scripts. */
export interface EnginePage {
  goto(url: string): Promise<void>
  /**
   * Runs the body of an async function with `args` in the page.
   *
   * @returns its value, as JSON carries it
   */
  run<T>(body: string, ...args: unknown[]): Promise<T>
  close(): Promise<void>
}

export interface Engine {
  readonly name: 'Chromium' | 'Firefox' | 'WebKit'
  /** Why it cannot be tried here; null when it can. */
  readonly missing: string | null
  open(): Promise<OpenEngine>
}

export interface OpenEngine {
  /** The app that is served there. */
  appAt(url: string): App
  close(): Promise<void>
}

const byScript = (page: EnginePage): OpenEngine => ({
  appAt: (url) => appByScript(page, url),
  close: page.close,
})

const WIDTH = 390
const HEIGHT = 844

const found = (command: string): string | null => {
  try {
    return execFileSync('which', [command], { encoding: 'utf8' }).trim() || null
  } catch {
    return null
  }
}

const FIREFOX = found('firefox-esr') ?? found('firefox')
const WEBKIT_DRIVER = found('WebKitWebDriver')
const MINI_BROWSER = [
  '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser',
  '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.0/MiniBrowser',
  '/usr/lib/aarch64-linux-gnu/webkit2gtk-4.1/MiniBrowser',
  '/usr/lib/aarch64-linux-gnu/webkit2gtk-4.0/MiniBrowser',
].find((path) => existsSync(path))

export const ENGINES: readonly Engine[] = [
  {
    name: 'Chromium',
    missing: null,
    async open() {
      const browser = await chromium.launch({
        executablePath: ensureBrowser(),
        headless: true,
        args: browserFlags,
      })
      const context = await browser.newContext({ viewport: { width: WIDTH, height: HEIGHT } })
      context.setDefaultTimeout(patienceMs(60))
      const page = await context.newPage()
      return { appAt: (url) => appByHand(page, url), close: () => browser.close() }
    },
  },
  {
    name: 'Firefox',
    missing: FIREFOX === null ? 'no firefox-esr (apt-get install firefox-esr)' : null,
    async open() {
      const browser = await puppeteer.launch({
        browser: 'firefox',
        executablePath: FIREFOX ?? '',
        headless: true,
        defaultViewport: { width: WIDTH, height: HEIGHT },
        protocolTimeout: patienceMs(120),
      })
      const page = await browser.newPage()
      return byScript({
        goto: async (url) => void (await page.goto(url)),
        run: (body, ...args) =>
          page.evaluate(`(${functionOf(body)})(...${JSON.stringify(args)})`) as Promise<never>,
        close: () => browser.close(),
      })
    },
  },
  {
    name: 'WebKit',
    missing:
      WEBKIT_DRIVER === null || MINI_BROWSER === undefined || found('xvfb-run') === null
        ? 'no WebKitWebDriver, MiniBrowser or xvfb-run (apt-get install webkit2gtk-driver xvfb)'
        : null,
    open: async () => byScript(await openWebKit()),
  },
]

/**
 * On in Safari, off by default in this port. Private files stay out of reach all the same: under its driver MiniBrowser
 * keeps nothing on disk and refuses them, as private windows of Safari do, and elsewhere this port has
 * no `createSyncAccessHandle` behind the name.
 */
const WEBKIT_FEATURES = [
  'StorageAPI',
  'StorageAPIEstimate',
  'FileSystem',
  'AccessHandle',
  'WebShare',
]

/**
 * A page of WebKitGTK 2.50 is left alone while its parts load: where its driver runs a script meanwhile,
 * imports that the page has begun never end (16 of 16 pages; after this pause, longer on a slow machine,
 * none of 8).
 */
const SETTLED_MS = 2500

/** Whole milliseconds, as drivers want them, for so many seconds of a quiet machine. */
const patienceMs = (seconds: number) => Math.ceil(1000 * seconds * slowness())

const functionOf = (body: string) => `async (...args) => {${body}}`

/** A W3C WebDriver client of as few commands as are needed: https://www.w3.org/TR/webdriver2/ */
async function openWebKit(): Promise<EnginePage> {
  const port = await freePort()
  const home = await mkdtemp(join(tmpdir(), 'glowbook-webkit-'))
  const driver = spawn('xvfb-run', ['-a', WEBKIT_DRIVER!, `--port=${port}`, '--host=127.0.0.1'], {
    // A group of its own, so that its display ends with it; a home of its own for what it stores.
    detached: true,
    stdio: 'ignore',
    env: {
      ...process.env,
      HOME: home,
      XDG_DATA_HOME: join(home, 'data'),
      XDG_CACHE_HOME: join(home, 'cache'),
      // In a container there is neither a graphics card nor a right to nest a sandbox.
      WEBKIT_DISABLE_COMPOSITING_MODE: '1',
      WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS: '1',
      LIBGL_ALWAYS_SOFTWARE: '1',
    },
  })
  const base = `http://127.0.0.1:${port}`
  const ask = async (method: string, path: string, body?: unknown): Promise<unknown> => {
    const response = await fetch(base + path, {
      method,
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    })
    const { value } = (await response.json()) as { value: unknown }
    if (!response.ok) throw new Error(`WebKit: ${JSON.stringify(value).slice(0, 500)}`)
    return value
  }
  try {
    await listening(base)
    const created = (await ask('POST', '/session', {
      capabilities: {
        alwaysMatch: {
          timeouts: { script: patienceMs(120), pageLoad: patienceMs(60) },
          'webkitgtk:browserOptions': {
            binary: MINI_BROWSER,
            args: ['--automation', `--features=${WEBKIT_FEATURES.map((name) => `+${name}`)}`],
          },
        },
      },
    })) as { sessionId: string }
    const session = `/session/${created.sessionId}`
    await ask('POST', `${session}/window/rect`, { width: WIDTH, height: HEIGHT }).catch(() => {})
    return {
      async goto(url) {
        await ask('POST', `${session}/url`, { url })
        await new Promise((done) => setTimeout(done, SETTLED_MS * slowness()))
      },
      async run<T>(body: string, ...args: unknown[]) {
        const script = `const done = arguments[arguments.length - 1];
          const given = [...arguments].slice(0, -1);
          (${functionOf(body)})(...given).then(
            (value) => done({ value: value === undefined ? null : value }),
            (error) => done({ error: String(error) }))`
        const answer = (await ask('POST', `${session}/execute/async`, { script, args })) as {
          value?: T
          error?: string
        }
        if (answer.error !== undefined) throw new Error(`WebKit: ${answer.error}`)
        return answer.value as T
      },
      async close() {
        await ask('DELETE', session).catch(() => {})
        await end(driver, home)
      },
    }
  } catch (error) {
    await end(driver, home)
    throw error
  }
}

async function end(driver: ChildProcess, home: string): Promise<void> {
  try {
    if (driver.pid !== undefined) process.kill(-driver.pid, 'SIGKILL')
  } catch {
    // It has ended meanwhile.
  }
  await rm(home, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 })
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', reject)
    server.listen(0, '127.0.0.1', () => {
      const address = server.address()
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
}

async function listening(base: string): Promise<void> {
  for (let tries = 0; tries < 150; tries++) {
    const up = await fetch(`${base}/status`).then(
      () => true,
      () => false,
    )
    if (up) return
    await new Promise((resolve) => setTimeout(resolve, 200))
  }
  throw new Error('WebKitWebDriver does not start.')
}
