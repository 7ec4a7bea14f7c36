import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { build } from 'vite'
import { serve } from '../../scripts/server.mjs'
import type { LogPage } from './log-page/main.ts'

declare global {
  var logPage: LogPage
}

/** The log by itself on a page of its own: `logPage` in the page holds what main.ts exports. */
export async function logSite(): Promise<{ url: string; end(): Promise<void> }> {
  const folder = await mkdtemp(join(tmpdir(), 'glowbook-log-'))
  await build({
    configFile: false,
    logLevel: 'error',
    root: fileURLToPath(new URL('log-page', import.meta.url)),
    build: { outDir: folder, emptyOutDir: true, target: 'es2022' },
  })
  const server = await serve({ folder, host: 'localhost' })
  return {
    url: `http://localhost:${server.port}`,
    async end() {
      await server.close()
      await rm(folder, { recursive: true })
    },
  }
}
