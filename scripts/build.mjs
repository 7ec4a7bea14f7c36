/** npm run build: the app as it is shipped, into dist, whatever NODE_ENV the caller has. */
import { env } from 'node:process'
import { pathToFileURL } from 'node:url'
import { root } from './install.mjs'

/** @param {'info' | 'warn'} logLevel */
export async function buildApp(logLevel) {
  env.NODE_ENV = 'production'
  const { build } = await import('vite')
  await build({ root, logLevel })
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  await buildApp('info').catch((error) => {
    console.error(error instanceof Error ? error.message : error)
    process.exitCode = 1
  })
}
