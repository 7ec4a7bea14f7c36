/** Unit tests over sources with probes and mutants in them, in processes that can be ended. */
import { fork, spawn } from 'node:child_process'
import { join } from 'node:path'
import process, { env, execPath, exit, kill } from 'node:process'
import { root } from '../install.mjs'

const CONFIG = 'scripts/mutate/vitest.config.ts'

/** Of tests with a mutant; `crashed` where Vitest ended, or ran none of them. @typedef {'passed' | 'failed' | 'crashed'} Outcome */

/** Groups of their own do not hear the terminal's Ctrl+C. @type {Set<number>} */
const running = new Set()
process.once('SIGINT', () => exit(130))
process.once('SIGTERM', () => exit(143))
process.once('exit', () => {
  for (const pid of running) endGroup(pid)
})

/** @param {number} pid */
function endGroup(pid) {
  try {
    kill(-pid, 'SIGKILL')
  } catch {
    // It has just ended by itself.
  }
}

/** @param {import('node:child_process').ChildProcess} child */
function remembered(child) {
  const { pid = 0 } = child
  running.add(pid)
  child.once('close', () => running.delete(pid))
  return child
}

/**
 * All unit tests that import any of the files, once.
 *
 * @param {readonly string[]} files
 * @param {number} cores
 * @param {Record<string, string>} settings
 * @returns {Promise<boolean>} whether all passed
 */
export function relatedTests(files, cores, settings) {
  const program = join(root, 'node_modules', 'vitest', 'vitest.mjs')
  const run = spawn(
    execPath,
    [program, 'related', ...files, '--run', '--config', CONFIG, '--maxWorkers', String(cores)],
    {
      cwd: root,
      stdio: 'ignore',
      detached: true,
      env: { ...env, ...settings },
    },
  )
  return new Promise((resolve) => remembered(run).once('close', (status) => resolve(status === 0)))
}

/**
 * A Vitest that is kept warm: one mutant after another. What does not end within its limit is ended,
 * and counts as failed; what ends Vitest itself says nothing of the tests.
 *
 * @param {Record<string, string>} settings
 */
export function warmVitest(settings) {
  const begun = () => {
    const child = remembered(
      fork(join(root, 'scripts', 'mutate', 'warm.mjs'), [], {
        cwd: root,
        stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
        detached: true,
        env: { ...env, ...settings },
      }),
    )
    const ready = new Promise((resolve, reject) => {
      const ended = (/** @type {unknown} */ why) =>
        reject(
          new Error(
            `Vitest did not start for the mutants (${why}): run node scripts/mutate/warm.mjs to see why.`,
          ),
        )
      child.once('message', resolve).once('error', ended).once('close', ended)
    })
    // Also where nobody waits for it any more.
    ready.catch(() => undefined)
    return { child, ready }
  }
  let { child, ready } = begun()
  return {
    /**
     * @param {string} id of the mutant
     * @param {readonly string[]} tests
     * @param {number} limitMs
     * @returns {Promise<Outcome>}
     */
    async run(id, tests, limitMs) {
      await ready
      /** @type {Outcome | 'no end'} */
      const outcome = await new Promise((resolve) => {
        const done = (/** @type {Outcome | 'no end'} */ answer) => {
          clearTimeout(limit)
          child.removeAllListeners('message').off('close', gone).off('error', gone)
          resolve(answer)
        }
        const gone = () => done('crashed')
        const limit = setTimeout(() => done('no end'), limitMs)
        child.once('message', (/** @type {{ outcome: Outcome }} */ message) =>
          done(message.outcome),
        )
        child.once('close', gone).once('error', gone)
        child.send({ id, tests })
      })
      if (outcome === 'passed' || outcome === 'failed') return outcome
      endGroup(child.pid ?? 0)
      ;({ child, ready } = begun())
      return outcome === 'no end' ? 'failed' : 'crashed'
    },
    end: () => endGroup(child.pid ?? 0),
  }
}
