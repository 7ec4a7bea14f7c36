/**
 * npm run mutate: small mistakes are put into the sources one after another (StrykerJS); each has to be
 * noticed by the unit tests nearest to it (by imports). Prints the share that was, and those that were not.
 *
 *   npm run mutate                      a random sample that ends within 20 minutes on two quiet cores
 *   npm run mutate -- --count 400       a larger one
 *   npm run mutate -- --all             every mutant: a night
 *   npm run mutate -- --seed 2 src/log  another sample, of files whose path begins so
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { availableParallelism, tmpdir } from 'node:os'
import { join } from 'node:path'
import { env } from 'node:process'
import { parseArgs } from 'node:util'
import { codeFiles, distancesFrom, importGraph } from './import-graph.mjs'
import { ensureInstalled, root } from './install.mjs'
import { slowness } from './machine-speed.mjs'

const { values, positionals } = parseArgs({
  options: {
    count: { type: 'string', default: '150' },
    seed: { type: 'string', default: '1' },
    all: { type: 'boolean', default: false },
    cores: { type: 'string', default: String(availableParallelism()) },
  },
  allowPositionals: true,
})
ensureInstalled()
const began = performance.now()
const { mutantsOf, nameOf, sampleOf } = await import('./mutate/sample.mjs')
const { Stryker } = await import('@stryker-mutator/core')

const FOLDERS = ['numerics', 'physics', 'colour', 'light', 'estimate', 'session', 'log']
/** Data have tests against their sources; a worker's few lines run in a browser only. */
const NOT_MUTATED = /\.(data|worker|derive)\.ts$|\/derive\.ts$/

const files = FOLDERS.flatMap((folder) =>
  readdirSync(join(root, 'src', folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && !NOT_MUTATED.test(file))
    .map((file) => `src/${folder}/${file.replaceAll('\\', '/')}`),
)
  .filter((file) => positionals.length === 0 || positionals.some((part) => file.startsWith(part)))
  .sort()
const all = await mutantsOf(files)
const sample = values.all ? all : sampleOf(all, Number(values.count), Number(values.seed))
const names = new Set(sample.map(nameOf))
console.log(
  `${sample.length} of ${all.length} mutants in ${files.length} files, seed ${values.seed}.`,
)

/** Test files that are run for a mutated one: all that rest on it would take hours. */
const NEAREST = 6
const graph = importGraph(codeFiles(['src', 'tests']))
const isUnitTest = (/** @type {string} */ file) =>
  /^tests\/(?!browser|bench|engines|accuracy).*\.test\.tsx?$/.test(file)
const tests = new Set(
  [...new Set(sample.map(({ fileName }) => fileName))].flatMap((file) =>
    [...distancesFrom(graph, [file])]
      .filter(([path]) => isUnitTest(path))
      .sort(([, a], [, b]) => a - b)
      .slice(0, NEAREST)
      .map(([path]) => path),
  ),
)

const folder = mkdtempSync(join(tmpdir(), 'glowbook-mutate-'))
env.GLOWBOOK_MUTANTS = join(folder, 'sample.json')
writeFileSync(env.GLOWBOOK_MUTANTS, JSON.stringify([...names]))
env.GLOWBOOK_MUTANT_TESTS = JSON.stringify([...tests])
const results = await new Stryker({
  // Files without a sampled mutant stay as they are: the first run takes half the time.
  mutate: [...new Set(sample.map(({ fileName }) => fileName))],
  plugins: ['@stryker-mutator/vitest-runner', './scripts/mutate/sample-checker.mjs'],
  testRunner: 'vitest',
  vitest: { configFile: 'scripts/mutate/vitest.config.ts', related: true },
  checkers: ['sample'],
  coverageAnalysis: 'perTest',
  // What runs while a module loads would need every test again.
  ignoreStatic: true,
  concurrency: Number(values.cores),
  dryRunTimeoutMinutes: 30 * slowness(),
  timeoutMS: 30_000,
  ignorePatterns: ['dist', '*.log'],
  tempDirName: join(folder, 'sandbox'),
  reporters: ['progress-append-only'],
  allowConsoleColors: false,
  disableTypeChecks: false,
  // It would be rewritten through an interface that the compiler no longer has.
  tsconfigFile: 'none',
}).runMutationTest()
rmSync(folder, { recursive: true, force: true })

/** Results count lines and columns from 1. @param {{ line: number, column: number }} at */
const fromZero = ({ line, column }) => ({ line: line - 1, column: column - 1 })
const run = results
  .map((result) => {
    const { start, end } = result.location
    return { ...result, location: { start: fromZero(start), end: fromZero(end) } }
  })
  .filter((result) => names.has(nameOf(result)))
/** @param {string[]} statuses */
const withStatus = (...statuses) => run.filter(({ status }) => statuses.includes(status))
const noticed = withStatus('Killed', 'Timeout', 'RuntimeError')
const missed = withStatus('Survived', 'NoCoverage')
for (const { fileName, location, mutatorName, replacement, status } of missed) {
  const file = fileName.slice(fileName.lastIndexOf('src/'))
  const { start, end } = location
  const lines = readFileSync(join(root, file), 'utf8')
    .split('\n')
    .slice(start.line, end.line + 1)
  const text = lines.join(' ').trim().slice(0, 100)
  console.log(`\n${file}:${start.line + 1}:${start.column + 1} ${mutatorName}, ${status}`)
  console.log(`  ${text}\n  -> ${replacement.slice(0, 100)}`)
}
const share = (100 * noticed.length) / (noticed.length + missed.length)
console.log(
  `\n${noticed.length} of ${noticed.length + missed.length} noticed, ${share.toFixed(1)} %; ` +
    `${withStatus('Ignored').length} run while a module loads and were left out.`,
)
console.log(`${((performance.now() - began) / 60_000).toFixed(1)} minutes.`)
