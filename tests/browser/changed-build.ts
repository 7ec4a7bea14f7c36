import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import type { Page } from 'playwright-core'
import { builtApp, type Site } from './harness.ts'

/** The start of the list of files inside the built service worker. */
const firstOfList = '[{"revision":'

/** Serves a changed copy of the built app on the same address until `work` is done. */
export async function withChangedBuild(
  site: Site,
  change: (folder: string) => Promise<void>,
  work: () => Promise<void>,
): Promise<void> {
  const folder = await mkdtemp(join(tmpdir(), 'glowbook-build-'))
  await cp(builtApp, folder, { recursive: true })
  await change(folder)
  await site.down()
  site.folder = folder
  await site.up()
  try {
    await work()
  } finally {
    await site.down()
    site.folder = builtApp
    await rm(folder, { recursive: true })
  }
}

/** A newer version: its page says so, and its service worker says that the page differs. */
export async function newerPage(folder: string): Promise<void> {
  await edit(join(folder, 'index.html'), '<html ', '<html data-build="newer" ')
  const page = /\{"revision":"[^"]*","url":"index.html"\}/
  await edit(join(folder, 'service-worker.js'), page, '{"revision":"newer","url":"index.html"}')
}

/** Which version a page is of: 'newer' or ''. The title would not tell: the app writes its own. */
export const buildOf = (page: Page): Promise<string> =>
  page.evaluate(() => document.documentElement.dataset.build ?? '')

/** Adds a file to the build and to the list of its service worker. */
export async function addFile(folder: string, url: string, content: string): Promise<void> {
  await mkdir(dirname(join(folder, url)), { recursive: true })
  await writeFile(join(folder, url), content)
  const entry = `[{"revision":null,"url":"${url}"},{"revision":`
  await edit(join(folder, 'service-worker.js'), firstOfList, entry)
}

async function edit(file: string, what: string | RegExp, by: string): Promise<void> {
  const before = await readFile(file, 'utf8')
  const after = before.replace(what, by)
  if (after === before) throw new Error(`${file} holds nothing like ${what}.`)
  await writeFile(file, after)
}
