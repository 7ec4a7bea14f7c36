/**
 * npm run quick: what can be known of a change in 20 seconds: lint of the changed files, types, and
 * the unit tests that rest on them, the nearest first. What the time does not reach is named.
 */
import { spawn } from 'node:child_process'
import { availableParallelism } from 'node:os'
import { join } from 'node:path'
import process, { execPath } from 'node:process'
import { changedFiles } from './changed-files.mjs'
import { codeFiles, distancesFrom, importGraph } from './import-graph.mjs'
import { ensureInstalled, root } from './install.mjs'
import { slowness } from './machine-speed.mjs'

const start = performance.now()
ensureInstalled()
/** Leaves two seconds to end in, on a quiet machine. */
const budgetMs = 18_000 * slowness()
const left = () => budgetMs - (performance.now() - start)

const changed = changedFiles()
if (changed === undefined) {
  console.error('What changed is asked of Git, which knows nothing of this folder: run npm test.')
  process.exit(1)
}
const { since, files } = changed
console.log(`${files.length} files differ from ${since}.`)

const [checked, tested] = await Promise.all([lintAndTypes(), unitTests()])
const seconds = ((performance.now() - start) / 1000).toFixed(1)
console.log(`\n${checked && tested ? 'Sound' : 'NOT SOUND'} as far as looked, in ${seconds} s.`)
process.exit(checked && tested ? 0 : 1)

async function lintAndTypes() {
  const code = files.filter((file) => /\.(tsx?|mjs|js|json|css|html)$/.test(file))
  const linted =
    code.length === 0 ||
    (await run([
      'node_modules/@biomejs/biome/bin/biome',
      'check',
      '--no-errors-on-unmatched',
      ...code,
    ]))
  const typed = await run(['scripts/types.mjs', '--incremental'])
  console.log(`\nlint ${linted ? 'ok' : 'FAILED'}, types ${typed ? 'ok' : 'FAILED'}`)
  return linted && typed
}

async function unitTests() {
  const graph = importGraph(codeFiles(['src', 'tests', 'scripts']))
  const distances = distancesFrom(graph, files)
  const isUnitTest = (/** @type {string} */ file) =>
    /^tests\/(?!browser\/|bench\/).*\.test\.tsx?$/.test(file)
  const tests = [...distances].filter(([file]) => isUnitTest(file))
  const rounds = [
    tests.filter(([, imports]) => imports <= 1),
    tests.filter(([, imports]) => imports === 2),
    tests.filter(([, imports]) => imports > 2),
  ]
  if (tests.length === 0) {
    console.log('No unit test rests on them.')
    return true
  }
  const { createVitest } = await import('vitest/node')
  // One core is left to lint and types.
  const maxWorkers = Math.max(1, availableParallelism() - 1)
  const vitest = await createVitest('test', { watch: false, reporters: ['dot'], maxWorkers })
  await vitest.standalone()
  const all = await vitest.globTestSpecifications()
  const ended = new Set()
  const deadline = setTimeout(() => vitest.cancelCurrentRun('keyboard-input'), left())
  for (const round of rounds) {
    const paths = new Set(round.map(([file]) => join(root, file)))
    const wanted = all.filter(({ moduleId }) => paths.has(moduleId))
    if (wanted.length === 0 || left() < 0) continue
    const { testModules } = await vitest.runTestSpecifications(wanted)
    for (const module of testModules) if (module.state() !== 'skipped') ended.add(module.moduleId)
  }
  clearTimeout(deadline)
  const failed =
    vitest.state.getCountOfFailedTests() > 0 || vitest.state.getUnhandledErrors().length > 0
  await vitest.close()
  console.log(
    `unit tests ${failed ? 'FAILED' : 'ok'}: ${ended.size} of ${tests.length} files that rest on the change`,
  )
  if (ended.size < tests.length) console.log('The time was up; npm run unit runs the rest.')
  return !failed
}

/** @param {string[]} args */
function run(args) {
  return new Promise((resolve) => {
    const child = spawn(execPath, args, { cwd: root, stdio: 'inherit' })
    child.once('error', () => resolve(false))
    child.once('close', (status) => resolve(status === 0))
  })
}
