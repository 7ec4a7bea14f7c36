import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { build } from 'vite'

/**
 * Imports a module bundled and minified as the app ships it. Run straight through Vite, every
 * access to an imported name is a function call, which makes small loops several times slower than
 * they are for a user.
 *
 * @param path relative to the repository, e.g. 'src/colour/planckian-locus.ts'
 */
export async function importBundled<Module>(path: string): Promise<Module> {
  const root = fileURLToPath(new URL('../..', import.meta.url))
  const result = await build({
    root,
    configFile: false,
    logLevel: 'error',
    publicDir: false,
    ssr: { noExternal: true },
    build: { ssr: join(root, path), write: false, minify: true, target: 'es2022' },
  })
  if (!('output' in result)) throw new Error(`${path}: no bundle`)
  const folder = mkdtempSync(join(tmpdir(), 'bench-'))
  try {
    const file = join(folder, 'bundle.mjs')
    writeFileSync(file, result.output[0].code)
    return await import(/* @vite-ignore */ pathToFileURL(file).href)
  } finally {
    rmSync(folder, { recursive: true })
  }
}
