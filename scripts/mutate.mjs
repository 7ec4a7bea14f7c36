/**
 * npm run mutate: small mistakes (the mutants of StrykerJS) are put into the sources one after another;
 * each has to be noticed by a unit test. Prints the share that was, by folder, and those that were not.
 *
 *   npm run mutate                      a random sample that ends within 20 minutes on two quiet cores
 *   npm run mutate -- --count 400       a larger one
 *   npm run mutate -- --all             every mutant: days
 *   npm run mutate -- --seed 2 src/log  another sample, of files whose path begins so
 *   npm run mutate -- --seconds 10      at most so many seconds of tests for each, of a quiet machine: a
 *                                       lower bound, soon
 *
 * What the compiler refuses is no mistake that can be made. What stands in `tests/mutation/harmless.json`
 * is left out of the second figure: it says why no test can or need notice it.
 */
import { readdirSync, statSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { basename, dirname, join } from 'node:path'
import { exit } from 'node:process'
import { parseArgs } from 'node:util'
import { textOf } from './import-graph.mjs'
import { ensureInstalled, root } from './install.mjs'
import { slowness } from './machine-speed.mjs'

const { values, positionals } = parseArgs({
  options: {
    count: { type: 'string', default: '200' },
    seed: { type: 'string', default: '1' },
    all: { type: 'boolean', default: false },
    seconds: { type: 'string', default: 'Infinity' },
    cores: { type: 'string', default: String(availableParallelism()) },
  },
  allowPositionals: true,
})
ensureInstalled()
const began = performance.now()
const begunAtMs = Date.now()
const { mutantsOf, originalOf, shuffled } = await import('./mutate/sample.mjs')
const { compiler } = await import('./mutate/compiler.mjs')
const { coveringTests } = await import('./mutate/covering.mjs')
const { warmVitest } = await import('./mutate/vitest.mjs')

const FOLDERS = ['numerics', 'physics', 'colour', 'light', 'estimate', 'session', 'log']
/** Data have tests against their sources; a worker's few lines run in a browser only. */
const NOT_MUTATED = /\.(data|worker|derive)\.ts$|\/derive\.ts$/
/** A mistake may never end: beyond what its tests take without it, in time of a quiet machine. */
const LIMIT_MS = 10_000

/** @typedef {import('./mutate/sample.mjs').Mutant} Mutant */
/** @type {{ file: string, original: string, replacement: string, why: string }[]} */
const harmless = JSON.parse(textOf('tests/mutation/harmless.json'))

const files = FOLDERS.flatMap((folder) =>
  readdirSync(join(root, 'src', folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && !NOT_MUTATED.test(file))
    .map((file) => `src/${folder}/${file.replaceAll('\\', '/')}`),
)
  .filter((file) => positionals.length === 0 || positionals.some((part) => file.startsWith(part)))
  .sort()
const all = await mutantsOf(files)
const { sample, refused } = acceptedByCompiler(
  shuffled(all, Number(values.seed)),
  values.all ? all.length : Number(values.count),
)
console.log(
  `${sample.length} of ${all.length} mutants in ${files.length} files, seed ${values.seed}; ` +
    `the compiler refused ${refused} more.`,
)
const { settings, ids, runs, end } = await coveringTests(sample, Number(values.cores))
if (runs === null) {
  console.error(
    'Tests fail without any mistake: every one would count as noticed. Mend them first.',
  )
  end()
  exit(1)
}
console.log(`Covered after ${minutes()}.`)

const HOW = /** @type {const} */ ({ passed: 'not noticed', failed: 'noticed', crashed: 'crashed' })
/** @type {{ mutant: Mutant, how: 'noticed' | 'not noticed' | 'crashed' | 'no test runs there' | 'no test is short enough' }[]} */
const results = []
const coming = sample.entries()
await Promise.all(Array.from({ length: Number(values.cores) }, workThrough)).finally(end)
const tried = results.filter(({ how }) => how !== 'crashed')
const missed = tried.filter(({ how }) => how !== 'noticed')
const reasons = missed.map(({ mutant }) => whyHarmless(mutant))

console.log('')
for (const folder of FOLDERS) {
  const own = tried.filter(({ mutant }) => mutant.file.startsWith(`src/${folder}/`))
  const noticed = own.filter(({ how }) => how === 'noticed').length
  if (own.length > 0) console.log(`${folder}: ${noticed} of ${own.length}`)
}
const noticed = tried.length - missed.length
const counted = tried.length - reasons.filter((why) => why !== undefined).length
/** @param {number} of */
const share = (of) => `${noticed} of ${of} noticed, ${((100 * noticed) / of).toFixed(1)} %`
console.log(`\n${share(tried.length)}; without the harmless ones ${share(counted)}.`)
if (tried.length < results.length)
  console.log(`${results.length - tried.length} more ended Vitest itself: counted neither way.`)
console.log(`${minutes()}; slowness of the machine ${slowness().toFixed(1)}.`)
const changed = changedSince(begunAtMs)
if (changed.length > 0)
  console.error(
    `Changed meanwhile, so that tests may have failed without any mistake: ${changed.slice(0, 5).join(', ')}. Run it again, in a checkout of its own.`,
  )

/** The first that are no error of types. @param {readonly Mutant[]} mutants @param {number} count */
function acceptedByCompiler(mutants, count) {
  const { accepted, end } = compiler()
  /** @type {Mutant[]} */
  const sample = []
  let seen = 0
  while (sample.length < count && seen < mutants.length) {
    const next = mutants.slice(seen, seen + count - sample.length)
    sample.push(...accepted(next))
    seen += next.length
  }
  end()
  return { sample, refused: seen - sample.length }
}

async function workThrough() {
  const vitest = warmVitest(settings)
  for (const [i, mutant] of coming) {
    const tests = quickFirst(runs?.[i] ?? [], mutant.file)
    const seconds = tests.reduce((sum, { seconds }) => sum + seconds, 0)
    const limitMs = (LIMIT_MS + 3000 * seconds) * slowness()
    const names = tests.map(({ test }) => test)
    const none = runs?.[i]?.length === 0 ? 'no test runs there' : 'no test is short enough'
    const how = names.length === 0 ? none : HOW[await vitest.run(ids[i] ?? '', names, limitMs)]
    results.push({ mutant, how })
    if (how !== 'noticed') console.log(described(mutant, how))
    if (results.length % 10 === 0)
      console.log(
        `${results.length}: ${results.filter(({ how }) => how === 'noticed').length} noticed, ${minutes()}`,
      )
  }
  vitest.end()
}

/**
 * Those that name the file notice most; then the quick ones. With `--seconds` only as many as fit.
 *
 * @param {readonly { test: string, seconds: number }[]} runs @param {string} file
 */
function quickFirst(runs, file) {
  const sorted = runs
    .map((run) => ({ ...run, own: speaksOf(run.test, file) }))
    .sort((a, b) => Number(b.own) - Number(a.own) || a.seconds - b.seconds)
  let left = Number(values.seconds)
  return sorted.filter(({ seconds }) => {
    left -= seconds
    return left >= 0
  })
}

/** @param {Mutant} mutant @param {string} how */
function described(mutant, how) {
  const { start } = mutant.location
  const why = whyHarmless(mutant)
  return [
    `${mutant.file}:${start.line + 1}:${start.column + 1} ${mutant.mutatorName}, ${how}`,
    `  ${originalOf(mutant).slice(0, 100)}`,
    `  -> ${mutant.replacement.slice(0, 100)}`,
    ...(why === undefined ? [] : [`  harmless: ${why}`]),
  ].join('\n')
}

/** @param {Mutant} mutant */
function whyHarmless(mutant) {
  const original = originalOf(mutant)
  return harmless.find(
    (one) =>
      one.file === mutant.file &&
      one.original === original &&
      one.replacement === mutant.replacement,
  )?.why
}

/** @param {string} test @param {string} file */
function speaksOf(test, file) {
  return (
    test.includes(basename(file, '.ts')) ||
    textOf(test).includes(file.slice('src/'.length)) ||
    basename(dirname(test)) === basename(dirname(file))
  )
}

/** @param {number} sinceMs @returns {string[]} */
function changedSince(sinceMs) {
  return ['src', 'tests'].flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .map((file) => join(folder, file))
      .filter((file) => statSync(join(root, file)).mtimeMs > sinceMs),
  )
}

function minutes() {
  return `${((performance.now() - began) / 60_000).toFixed(1)} minutes`
}
