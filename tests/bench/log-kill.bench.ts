import { execFileSync, spawn } from 'node:child_process'
import { mkdtemp, readFile, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { type Browser, chromium, type Page } from 'playwright-core'
import { browserFlags, ensureBrowser } from '../../scripts/find-browser.mjs'
import type { Log } from '../browser/log-page/main.ts'
import { logSite } from '../browser/log-site.ts'
import type { Bench } from './figure.ts'

declare global {
  var log: Log
}

/** What the page has reported as saved, and what it had asked for before that. */
interface Told {
  /** Reading ids, each with the last note that was reported saved. */
  readonly saved: Map<string, string>
}

/**
 * The browser process is killed at a random moment while readings are written, edited and deleted.
 * Whatever was reported saved must be there afterwards, and nothing half. (Killing a process leaves
 * the system's disk cache alone: the pulled plug is the disk's and the 'strict' durability's matter.)
 */
export const bench: Bench = async ({ short }) => {
  const rounds = short ? 3 : 50
  const profile = await mkdtemp(join(tmpdir(), 'glowbook-kill-'))
  const { url, end } = await logSite()
  const told: Told = { saved: new Map() }
  const found = { missing: 0, stale: 0, damaged: 0, withoutPicture: 0, killedWhileWriting: 0 }
  try {
    for (let round = 0; round <= rounds; round++) {
      const { browser, page } = await openBrowser(profile, url)
      await check(page, told, found)
      if (round === rounds) {
        await browser.close()
        kill(profile)
        break
      }
      await write(page, told)
      await new Promise((resolve) => setTimeout(resolve, 100 + 900 * Math.random()))
      if (told.saved.size > 0) found.killedWhileWriting++
      kill(profile)
      await browser.close().catch(() => {})
    }
  } finally {
    kill(profile)
    await end()
    await rm(profile, { recursive: true, force: true, maxRetries: 10, retryDelay: 200 })
  }
  const count = (name: string, value: number) => ({ name, value, unit: '', target: { atMost: 0 } })
  return [
    { name: 'kills while writing', value: found.killedWhileWriting, unit: `of ${rounds}` },
    { name: 'readings reported saved', value: told.saved.size, unit: '' },
    count('of these missing', found.missing),
    count('of these without their last saved note', found.stale),
    count('of these without their picture', found.withoutPicture),
    count('damaged or half records', found.damaged),
  ]
}

async function openBrowser(
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
  for (let tries = 0; tries < 300; tries++) {
    const text = await readFile(file, 'utf8').catch(() => '')
    const [line] = text.split('\n')
    if (line && text.includes('\n')) return line
    await new Promise((resolve) => setTimeout(resolve, 100))
  }
  throw new Error('The browser does not start.')
}

/** Kills the browser process of this profile, and no other. */
function kill(profile: string): void {
  const lines = execFileSync('ps', ['-eo', 'pid=,args='], { encoding: 'utf8' }).split('\n')
  for (const line of lines) {
    if (!line.includes(`--user-data-dir=${profile}`) || line.includes('--type=')) continue
    try {
      process.kill(Number(line.trim().split(' ')[0]), 'SIGKILL')
    } catch {
      // It has ended meanwhile.
    }
  }
}

/** Everything that was reported saved is there and whole; so is everything else. */
async function check(
  page: Page,
  told: Told,
  found: { missing: number; stale: number; damaged: number; withoutPicture: number },
): Promise<void> {
  const seen = await page.evaluate(
    async (expected) => {
      globalThis.log = await logPage.openLog()
      const damaged = await log.check()
      const result = { missing: 0, stale: 0, withoutPicture: 0, damaged: damaged.length }
      const removed = new Set((await log.removed()).map((summary) => summary.id))
      for (const [id, note] of expected) {
        if (note === 'removed') {
          if (!removed.has(id)) result.missing++
          continue
        }
        const stored = await log.get(id)
        if (stored?.state !== 'sound') {
          // Its removal may have been saved and the process killed before it could say so.
          if (!removed.has(id)) result.missing++
          continue
        }
        const { notes } = stored.reading
        const number = (text: string) => Number(text.split(' ')[1])
        if (number(notes) < number(note)) result.stale++
        if ((await log.picture(id)) === undefined) result.withoutPicture++
      }
      const listed = (await log.find()).count
      if (listed !== (await log.count()) || listed !== (await log.newest(1e6)).length) {
        result.damaged++
      }
      return result
    },
    [...told.saved],
  )
  found.missing += seen.missing
  found.stale += seen.stale
  found.damaged += seen.damaged
  found.withoutPicture += seen.withoutPicture
}

/** Three writers that report each change once it is said to be saved; returns at once. */
async function write(page: Page, told: Told): Promise<void> {
  await page.exposeFunction('tell', (id: string, note: string) => {
    told.saved.set(id, note)
  })
  await page.evaluate(() => {
    const { tell } = globalThis as unknown as { tell(id: string, note: string): void }
    const { method, result, inputs } = logPage.madeUpReading(1)
    const canvas = new OffscreenCanvas(64, 64)
    canvas.getContext('2d')?.fillRect(0, 0, 30, 64)
    const writer = async () => {
      const blob = await canvas.convertToBlob({ type: 'image/jpeg' })
      for (let n = 0; ; n++) {
        const draft = { method, result, inputs, notes: 'note 0' }
        const { id } = await log.add(draft, { blob, width: 64, height: 64 })
        tell(id, 'note 0')
        if (n % 3 === 1) {
          await log.edit(id, { notes: 'note 1' })
          tell(id, 'note 1')
        }
        if (n % 10 === 9) {
          await log.remove([id])
          tell(id, 'removed')
        }
      }
    }
    for (let i = 0; i < 3; i++) void writer()
  })
}
