import { execFileSync, spawn } from 'node:child_process'
import { readFile, rm } from 'node:fs/promises'
import { join } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { browserFlags, ensureBrowser } from '../../scripts/find-browser.mjs'
import { slowness } from '../../scripts/machine-speed.mjs'
import type { LogPage } from '../browser/log-page/main.ts'

declare global {
  var logPage: LogPage
}

/** A browser of its own that can be killed, with the page of the log. */
export async function openBrowser(
  profile: string,
  url: string,
): Promise<{ browser: Browser; page: Page }> {
  const portFile = join(profile, 'DevToolsActivePort')
  await rm(portFile, { force: true })
  spawn(
    ensureBrowser(),
    [
      ...browserFlags,
      '--headless=new',
      '--remote-debugging-port=0',
      `--user-data-dir=${profile}`,
      'about:blank',
    ],
    { stdio: 'ignore', detached: true },
  ).unref()
  const port = await firstLine(portFile)
  const browser = await chromium.connectOverCDP(`http://localhost:${port}`)
  const page = await browser.contexts()[0]!.newPage()
  await page.goto(url)
  await page.waitForFunction(() => 'logPage' in globalThis)
  return { browser, page }
}

async function firstLine(file: string): Promise<string> {
  const limit = 300 * slowness()
  for (let tries = 0; tries < limit; tries++) {
    const text = await readFile(file, 'utf8').catch(() => '')
    const [line] = text.split('\n')
    if (line && text.includes('\n')) return line
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  throw new Error('The browser does not start.')
}

/** Kills the browser process of this profile, or all processes of its group, and no other. */
export function kill(profile: string, what: 'main process' | 'whole process group'): void {
  const lines = execFileSync('ps', ['-eo', 'pid=,args='], { encoding: 'utf8' }).split('\n')
  for (const line of lines) {
    if (!line.includes(`--user-data-dir=${profile}`) || line.includes('--type=')) continue
    const pid = Number(line.trim().split(' ')[0])
    try {
      // It was started as the first of a group of its own.
      process.kill(what === 'main process' ? pid : -pid, 'SIGKILL')
    } catch {
      // It has ended meanwhile.
    }
  }
}
