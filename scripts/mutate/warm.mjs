/**
 * Runs unit tests with one mutant switched on, again and again in one Vitest, which keeps what it has
 * compiled: the parent sends `{ id, tests }` and is told the outcome. Each run has a fresh
 * process for its tests, so nothing of a former mutant stays.
 */
import { join } from 'node:path'
import process, { env } from 'node:process'
import { createVitest } from 'vitest/node'
import { root } from '../install.mjs'

/** The sources carry all mutants; this names the one that runs. */
const SWITCH = '__STRYKER_ACTIVE_MUTANT__'

const vitest = await createVitest('test', {
  config: 'scripts/mutate/vitest.config.ts',
  watch: false,
  bail: 1,
  maxWorkers: 1,
  reporters: [{}],
})
await vitest.standalone()

process.on('message', async (/** @type {{ id: string, tests: string[] }} */ { id, tests }) => {
  env[SWITCH] = id
  const files = tests.flatMap((test) => vitest.getModuleSpecifications(join(root, test)))
  const { testModules, unhandledErrors } = await vitest.runTestSpecifications(files)
  // Vitest gives those of all runs: what failed with a former mutant says nothing of this one.
  const asked = new Set(files.map(({ moduleId }) => moduleId))
  const own = testModules.filter(({ moduleId }) => asked.has(moduleId))
  const passed = own.every((file) => file.ok()) && unhandledErrors.length === 0
  process.send?.({ outcome: own.length === 0 ? 'crashed' : passed ? 'passed' : 'failed' })
})
process.on('disconnect', () => process.exit())
process.send?.('ready')
