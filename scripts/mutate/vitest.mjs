/** Unit tests over sources with probes and mutants in them, in processes that can be ended. */
import { fork, spawn } from 'node:child_process'
import { join } from 'node:path'
import process, { env, execPath, exit, kill } from 'node:process'
import { root } from '../install.mjs'

const CONFIG = 'scripts/mutate/vitest.config.ts'

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
 * and counts as failed.
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
    return { child, ready: new Promise((resolve) => child.once('message', resolve)) }
  }
  let { child, ready } = begun()
  return {
    /**
     * @param {string} id of the mutant
     * @param {readonly string[]} tests
     * @param {number} limitMs
     * @returns {Promise<boolean>} whether all passed
     */
    async passes(id, tests, limitMs) {
      await ready
      /** @type {boolean | null} */
      const passed = await new Promise((resolve) => {
        const done = (/** @type {boolean | null} */ answer) => {
          clearTimeout(limit)
          child.removeAllListeners('message').off('close', gone)
          resolve(answer)
        }
        const gone = () => done(null)
        const limit = setTimeout(gone, limitMs)
        child.once('message', (/** @type {{ passed: boolean }} */ message) => done(message.passed))
        child.once('close', gone)
        child.send({ id, tests })
      })
      if (passed !== null) return passed
      endGroup(child.pid ?? 0)
      ;({ child, ready } = begun())
      return false
    },
    end: () => endGroup(child.pid ?? 0),
  }
}
