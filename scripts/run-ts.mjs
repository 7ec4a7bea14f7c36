/**
 * Runs a TypeScript file under Node: `node scripts/run-ts.mjs FILE [arguments]` imports it through
 * Vite, which also resolves the imports with .ts endings, and calls its exported `main(argv)`.
 * A returned number is the exit code.
 */
import { resolve } from 'node:path'
import { argv, exit } from 'node:process'
import { runnerImport } from 'vite'

const [file, ...rest] = argv.slice(2)
if (file === undefined) {
  console.error('Usage: node scripts/run-ts.mjs FILE [arguments]; FILE exports main(argv).')
  exit(2)
}

const { module } = await runnerImport(resolve(file), { configFile: false, logLevel: 'warn' })
if (typeof module.main !== 'function') {
  console.error(`${file} exports no function called main.`)
  exit(2)
}
const code = await module.main(rest)
if (typeof code === 'number') process.exitCode = code
