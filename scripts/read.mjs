/**
 * npm run --silent read -- DIR --json: reads the cases that DIR/cases.json lists by the app's own
 * code and prints one JSON array with an answer for each: spectra, and photos in a browser. For checks from outside.
 */
import { parseArgs } from 'node:util'
import { ensureInstalled } from './install.mjs'

const { values, positionals } = parseArgs({
  options: { json: { type: 'boolean', default: false } },
  allowPositionals: true,
})
const [folder] = positionals
if (folder === undefined || !values.json) {
  console.error('Usage: npm run --silent read -- DIR --json; DIR holds cases.json.')
  process.exit(2)
}
ensureInstalled()
const { withTypeScript } = await import('./load-ts.mjs')
const answers = await withTypeScript(async (load) => {
  const { readCases } = await load('scripts/read/read-cases.ts')
  return readCases(folder, load)
})
console.log(JSON.stringify(answers, null, 1))
