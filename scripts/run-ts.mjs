/**
 * Runs a TypeScript file under Node: `node scripts/run-ts.mjs FILE [arguments]` imports it and calls
 * its exported `main(argv)`. A returned number is the exit code.
 */
import { resolve } from 'node:path'
import { argv, exit } from 'node:process'
import { withTypeScript } from './load-ts.mjs'

const [file, ...rest] = argv.slice(2)
if (file === undefined) {
  console.error('Usage: node scripts/run-ts.mjs FILE [arguments]; FILE exports main(argv).')
  exit(2)
}

const code = await withTypeScript(async (load) => {
  const { main } = await load(resolve(file))
  if (typeof main === 'function') return main(rest)
  console.error(`${file} exports no function called main.`)
  return 2
})
if (typeof code === 'number') process.exitCode = code
