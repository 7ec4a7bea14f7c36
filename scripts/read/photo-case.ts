import { existsSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Browser, chromium, type Page } from 'playwright-core'
import * as v from 'valibot'
import { build } from 'vite'
import app from '../../vite.config.ts'
import { browserFlags, ensureBrowser } from '../find-browser.mjs'
import { serve } from '../server.mjs'
import { type PhotoCase, photoCase } from './photo-page/photo-case-schema.ts'
import type { Answer, CaseReader } from './read-cases.ts'

declare global {
  var readPhotoCase: (asked: PhotoCase, names: readonly string[]) => Promise<Omit<Answer, 'id'>>
}

/**
 * Photos are read by the app's own code in a browser, one for all cases: decoding, finding the glow
 * and the card, sweeps, the estimate.
 */
export async function openReader(folder: string): Promise<CaseReader> {
  const built = await mkdtemp(join(tmpdir(), 'glowbook-photo-page-'))
  const closing: (() => Promise<unknown>)[] = [() => rm(built, { recursive: true })]
  const close = async () => {
    for (const end of closing.reverse()) await end()
  }
  try {
    // As the app is built: the raw decoder's files have a folder of their own, with a policy of its own.
    const { worker, build: settings } = app({ command: 'build', mode: 'production' })
    await build({
      configFile: false,
      logLevel: 'error',
      root: fileURLToPath(new URL('photo-page', import.meta.url)),
      worker: worker ?? {},
      build: { ...settings, outDir: built, emptyOutDir: true, minify: false },
    })
    const server = await serve({ folder: built, host: 'localhost' })
    closing.push(() => server.close())
    const browser: Browser = await chromium.launch({
      executablePath: ensureBrowser(),
      headless: true,
      args: browserFlags,
    })
    closing.push(() => browser.close())
    const page = await browser.newPage()
    await page.goto(`http://localhost:${server.port}/`)
    await page.waitForFunction(() => 'readPhotoCase' in globalThis)
    return { read: (given) => read(page, folder, v.parse(photoCase, given)), close }
  } catch (error) {
    await close()
    throw error
  }
}

async function read(page: Page, folder: string, asked: PhotoCase): Promise<Omit<Answer, 'id'>> {
  const names = [...new Set(filesOf(asked))]
  for (const name of names) {
    if (!existsSync(join(folder, name))) throw new Error(`no such file: ${name}`)
  }
  await page.locator('input[type=file]').setInputFiles(names.map((name) => join(folder, name)))
  return page.evaluate(([one, files]) => globalThis.readPhotoCase(one, files), [
    asked,
    names,
  ] as const)
}

const filesOf = ({ glow, raw, card, knownHeats }: PhotoCase): string[] => [
  ...glow,
  ...(raw === undefined ? [] : [raw]),
  ...(card ? [card.file] : []),
  ...(knownHeats ?? []).flatMap((heat) => heat.glow),
]
