/**
 * npm run mutate: small mistakes (the mutants of StrykerJS) are put into the sources one after another;
 * each has to be noticed by the unit tests nearest to it. Prints the share that was, and those that were
 * not.
 *
 *   npm run mutate                      a random sample that ends within 20 minutes on two quiet cores
 *   npm run mutate -- --count 400       a larger one
 *   npm run mutate -- --all             every mutant: days
 *   npm run mutate -- --seed 2 src/log  another sample, of files whose path begins so
 */
import { spawn } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { availableParallelism } from 'node:os'
import { basename, join } from 'node:path'
import { env, execPath, exit, kill } from 'node:process'
import { parseArgs } from 'node:util'
import { codeFiles, distancesFrom, importGraph, textOf } from './import-graph.mjs'
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
const { mutantsOf, sampleOf } = await import('./mutate/sample.mjs')

const FOLDERS = ['numerics', 'physics', 'colour', 'light', 'estimate', 'session', 'log']
/** Data have tests against their sources; a worker's few lines run in a browser only. */
const NOT_MUTATED = /\.(data|worker|derive)\.ts$|\/derive\.ts$/
/** Test files that are asked, by the imports between them and the mistake; each takes some seconds. */
const NEAREST = 12
/** A mistake may never end: of a quiet machine, many times what the tests take. */
const LIMIT_MS = 180_000

const files = FOLDERS.flatMap((folder) =>
  readdirSync(join(root, 'src', folder), { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts') && !NOT_MUTATED.test(file))
    .map((file) => `src/${folder}/${file.replaceAll('\\', '/')}`),
)
  .filter((file) => positionals.length === 0 || positionals.some((part) => file.startsWith(part)))
  .sort()
const all = await mutantsOf(files)
const sample = values.all ? all : sampleOf(all, Number(values.count), Number(values.seed))
console.log(
  `${sample.length} of ${all.length} mutants in ${files.length} files, seed ${values.seed}.`,
)

const graph = importGraph(codeFiles(['src', 'tests']))
/** Those that rest on the file: few imports between them, at the same place, with its name in them. @param {string} file */
const nearestTests = (file) =>
  [...distancesFrom(graph, [file])]
    .filter(([path]) => /^tests\/(?!browser|bench|engines|accuracy).*\.test\.tsx?$/.test(path))
    .map(([path, imports]) => ({
      path,
      far: imports - 2 * sharedFolders(file, path) - 3 * Number(speaksOf(path, file)),
    }))
    .sort((a, b) => a.far - b.far)
    .slice(0, NEAREST)
    .map(({ path }) => path)

/** @param {string} test @param {string} file */
const speaksOf = (test, file) => textOf(test).includes(basename(file, '.ts'))

/** Names that two paths share below src and tests. @param {string} file @param {string} test */
function sharedFolders(file, test) {
  /** @param {string} path */
  const names = (path) =>
    path
      .replace(/(\.test)?\.tsx?$/, '')
      .split('/')
      .slice(1)
  const others = names(test)
  const end = names(file).findIndex((name, i) => name !== others[i])
  return end < 0 ? names(file).length : end
}

/** @typedef {Awaited<ReturnType<typeof mutantsOf>>[number]} Mutant */
const [first] = sample
if (first && (await isNoticed(null, nearestTests(first.file)))) {
  console.error(
    'Tests fail without any mistake: every one would count as noticed. Mend them first.',
  )
  exit(1)
}
/** @type {Mutant[]} */
const missed = []
let done = 0
const coming = sample.values()
await Promise.all(Array.from({ length: Number(values.cores) }, workThrough))

for (const { file, location, mutatorName, replacement } of missed) {
  const { start, end } = location
  const lines = textOf(file)
    .split('\n')
    .slice(start.line, end.line + 1)
  const text = lines.join(' ').trim().slice(0, 100)
  console.log(`\n${file}:${start.line + 1}:${start.column + 1} ${mutatorName}`)
  console.log(`  ${text}\n  -> ${replacement.slice(0, 100)}`)
}
const share = (100 * (sample.length - missed.length)) / sample.length
console.log(
  `\n${sample.length - missed.length} of ${sample.length} noticed, ${share.toFixed(1)} %.`,
)
console.log(
  `${((performance.now() - began) / 60_000).toFixed(1)} minutes; slowness of the machine ${slowness().toFixed(1)}.`,
)

async function workThrough() {
  for (const mutant of coming) {
    const tests = nearestTests(mutant.file)
    if (tests.length === 0 || !(await isNoticed(mutant, tests))) missed.push(mutant)
    done++
    if (done % 10 === 0) console.log(`${done}: ${done - missed.length} noticed`)
  }
}

/**
 * A process for each mistake: what modules hold of a former one, and loops without end, end with it.
 *
 * @param {Mutant | null} mutant null: the sources as they are
 * @param {readonly string[]} tests @returns {Promise<boolean>}
 */
function isNoticed(mutant, tests) {
  const vitest = join(root, 'node_modules', 'vitest', 'vitest.mjs')
  const config = ['--config', 'scripts/mutate/vitest.config.ts', '--bail', '1']
  const run = spawn(execPath, [vitest, 'run', ...config, ...tests], {
    cwd: root,
    stdio: 'ignore',
    detached: true,
    env: { ...env, GLOWBOOK_MUTANT: JSON.stringify(mutant), GLOWBOOK_TESTS: JSON.stringify(tests) },
  })
  return new Promise((resolve) => {
    const limit = setTimeout(() => run.pid && kill(-run.pid, 'SIGKILL'), LIMIT_MS * slowness())
    run.once('close', (status) => {
      clearTimeout(limit)
      resolve(status !== 0)
    })
  })
}
