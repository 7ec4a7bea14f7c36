/**
 * npm test: installs what is missing, then everything that can fail: lint, types, unit tests, the
 * build, browser tests against the built app, the list of third parties, a short bench. The last
 * line is the sum: `N passed, N failed`.
 * `npm test -- --engines` walks the main journeys in Firefox and WebKit too, as far as they are installed.
 */
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { argv, env } from 'node:process'
import { ensureInstalled, root } from './install.mjs'
import { limitedRun } from './limited-run.mjs'
import { slowness } from './machine-speed.mjs'

ensureInstalled()
const { ensureBrowser } = await import('./find-browser.mjs')
const browser = ensureBrowser()
console.log(`Browser: ${browser}`)
console.log(
  `Speed: ${slowness().toFixed(1)} times slower than a quiet machine; limits grow with it.`,
)

const reports = mkdtempSync(join(tmpdir(), 'glowbook-test-'))
/** @type {{ name: string, passed: number, failed: number, skipped: number, seconds: number }[]} */
const steps = []
/** What failed, told again at the end: above it scrolls away. @type {string[]} */
const failures = []

/** @param {string} name @param {string[]} args @param {{ aside?: boolean }} [options] */
const run = (name, args, options) =>
  limitedRun(name, args, { ...env, CHROME_PATH: browser }, options)

/**
 * A step that passes or fails as a whole, beside a longer one.
 *
 * @param {string} name @param {string[]} args
 */
function check(name, args) {
  return step(name, async () => {
    const ok = await run(name, args, { aside: true })
    return { passed: ok ? 1 : 0, failed: ok ? 0 : 1, skipped: 0 }
  })
}

/** A step made of tests, each of which counts. @param {string} name @param {string[]} args */
function vitest(name, args) {
  console.log(`\n--- ${name}`)
  return step(name, async () => {
    const report = join(reports, `${name.replaceAll(' ', '-')}.json`)
    const ok = await run(name, [
      'node_modules/vitest/vitest.mjs',
      'run',
      '--reporter=default',
      '--reporter=json',
      `--outputFile.json=${report}`,
      ...args,
    ])
    const counts = countTests(report)
    // An error outside of any test, or no report at all, is a failure too.
    return ok || counts.failed > 0 ? counts : { ...counts, failed: 1 }
  })
}

/** @param {{ status: string, assertionResults: { status: string }[] }} file */
const brokenAsAWhole = (file) =>
  file.status === 'failed' && !file.assertionResults.some(({ status }) => status === 'failed')

/** The first lines of what a test said. @param {string | undefined} message */
const beginning = (message) => (message ?? '').split('\n').slice(0, 12).join('\n')

/** @param {string} report a JSON report of Vitest */
function countTests(report) {
  try {
    const { numPassedTests, numFailedTests, numPendingTests, testResults } = JSON.parse(
      readFileSync(report, 'utf8'),
    )
    for (const file of testResults) {
      if (brokenAsAWhole(file)) failures.push(`${file.name}\n${beginning(file.message)}`)
      for (const { status, fullName, failureMessages } of file.assertionResults)
        if (status === 'failed') failures.push(`${fullName}\n${beginning(failureMessages[0])}`)
    }
    return {
      passed: numPassedTests,
      failed: numFailedTests + testResults.filter(brokenAsAWhole).length,
      skipped: numPendingTests,
    }
  } catch {
    return { passed: 0, failed: 0, skipped: 0 }
  }
}

/**
 * @param {string} name
 * @param {() => Promise<{ passed: number, failed: number, skipped: number }>} work
 */
async function step(name, work) {
  const start = performance.now()
  const counts = await work()
  steps.push({ name, ...counts, seconds: (performance.now() - start) / 1000 })
  return counts.failed === 0
}

/**
 * One bench of each kind, in the short form: it must still run, and what counts the same on any
 * machine (nodes, listeners, records after a kill) must hold. Speed is judged by npm run bench alone,
 * the weight of the first visit by the browser test of that name.
 */
const BENCHES = ['live', 'locus', 'log-kill', 'photo', 'photos-in-a-row']

/** Short checks: they fill the moments in which the unit tests leave a core idle. */
async function checks() {
  await check('lint', ['node_modules/@biomejs/biome/bin/biome', 'check', '.'])
  // Several threads check much of it twice, and the other core is busy.
  for (const config of readdirSync(root).filter((name) => /^tsconfig\..+\.json$/.test(name)))
    await check(`types ${config}`, [
      'node_modules/typescript/bin/tsc',
      '--singleThreaded',
      '-p',
      config,
    ])
  await check('no machine in the text', ['scripts/check-text.mjs'])
  await check('third parties', ['scripts/third-party.mjs', '--check'])
  return check('build', ['scripts/build.mjs'])
}

const begun = performance.now()
const [built] = await Promise.all([checks(), vitest('unit tests', [])])
if (built) {
  // A bench waits for its pages most of the time.
  await Promise.all([
    vitest('browser tests', ['--config', 'tests/browser/vitest.config.ts']),
    check('bench in short form', [
      'scripts/bench.mjs',
      '--short',
      '--no-build',
      ...BENCHES.map((name) => `${name}.bench`),
    ]),
  ])
  if (argv.includes('--engines'))
    await vitest('engines', ['--config', 'tests/engines/vitest.config.ts'])
  else console.log('\nFirefox and WebKit: not asked for (npm test -- --engines, npm run engines).')
} else {
  await step('browser tests and bench: not run, there is no build', async () => ({
    passed: 0,
    failed: 2,
    skipped: 0,
  }))
}
const seconds = (performance.now() - begun) / 1000

rmSync(reports, { recursive: true })
const sum = { passed: 0, failed: 0, skipped: 0 }
console.log('')
for (const { name, passed, failed, skipped, seconds: took } of steps) {
  sum.passed += passed
  sum.failed += failed
  sum.skipped += skipped
  const mark = failed === 0 ? 'ok    ' : 'FAILED'
  console.log(`${mark} ${name}: ${passed} of ${passed + failed} in ${took.toFixed(1)} s`)
}
for (const failure of failures) console.log(`\nFAILED ${failure}`)
console.log(`All steps: ${seconds.toFixed(0)} s; some run beside each other.`)
if (sum.skipped > 0) console.log(`${sum.skipped} skipped, each with its reason above`)
console.log(`\n${sum.passed} passed, ${sum.failed} failed`)
process.exitCode = sum.failed === 0 ? 0 : 1
