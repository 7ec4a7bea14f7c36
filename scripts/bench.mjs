/**
 * npm run bench: builds and serves the app, runs every `tests/bench/*.bench.ts` and prints its
 * figures beside their targets.
 *
 *   npm run bench -- --short        as in npm test: one round of the smallest case each. Shows that a
 *                                   bench still runs; counts are judged, speed is told, not judged
 *   npm run bench -- --no-build locus   only benches with "locus" in their name, app as built before
 *
 * npm run soak does the same with `tests/bench/*.soak.ts`: hours of work, in two minutes if --short.
 */
import { existsSync, readdirSync } from 'node:fs'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { buildApp } from './build.mjs'
import { ensureInstalled, root } from './install.mjs'
import { serve } from './server.mjs'

const { values, positionals } = parseArgs({
  options: {
    short: { type: 'boolean', default: false },
    soak: { type: 'boolean', default: false },
    'no-build': { type: 'boolean' },
  },
  allowPositionals: true,
})
ensureInstalled()
const { withTypeScript } = await import('./load-ts.mjs')
if (!values['no-build'] || !existsSync(join(root, 'dist', 'index.html'))) await buildApp('warn')

const folder = join(root, 'tests', 'bench')
const names = readdirSync(folder)
  .filter((name) => name.endsWith(values.soak ? '.soak.ts' : '.bench.ts'))
  .filter((name) => positionals.length === 0 || positionals.some((part) => name.includes(part)))

const server = await serve({ folder: join(root, 'dist'), host: 'localhost' })
const setting = { short: values.short, url: `http://localhost:${server.port}` }
const missed = await withTypeScript(async (load) => {
  const { isReached } = await load(join(folder, 'figure.ts'))
  let count = 0
  /** @param {string} name @returns {Promise<import('../tests/bench/figure.ts').Figure[]>} */
  const run = async (name) => (await load(join(folder, name))).bench(setting)
  // Speed is not judged in the short form: there all may run at once.
  const running = values.short ? await Promise.allSettled(names.map(run)) : []
  for (const [i, name] of names.entries()) {
    console.log(`\n${name}`)
    try {
      const ended = running[i]
      if (ended?.status === 'rejected') throw ended.reason
      const figures = ended === undefined ? await run(name) : ended.value
      if (figures.length === 0) console.log('  not in the short form')
      for (const figure of figures) {
        const reached = isReached(figure)
        const judged = !(values.short && figure.timed)
        if (!reached && judged) count++
        console.log(`  ${line(figure, reached, judged)}`)
      }
    } catch (error) {
      count++
      console.error(error)
    }
  }
  return count
})
await server.close()
console.log(missed === 0 ? '\nAll targets reached.' : `\n${missed} missed.`)
process.exit(missed === 0 ? 0 : 1)

/**
 * @param {import('../tests/bench/figure.ts').Figure} figure
 * @param {boolean} reached @param {boolean} judged
 */
function line({ name, value, unit, target }, reached, judged) {
  const number = value.toLocaleString('en', { maximumSignificantDigits: value < 1000 ? 3 : 4 })
  const text = `${name}: ${number} ${unit}`
  if (target === undefined) return text
  const wanted =
    'atMost' in target
      ? `at most ${target.atMost.toLocaleString('en')}`
      : `at least ${target.atLeast.toLocaleString('en')}`
  return `${text} (target ${wanted}: ${reached ? 'reached' : judged ? 'MISSED' : 'missed, not judged here'})`
}
