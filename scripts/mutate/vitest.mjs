import { spawn } from 'node:child_process'
import { join } from 'node:path'
import process, { env, execPath, exit, kill } from 'node:process'
import { root } from '../install.mjs'

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

/**
 * Unit tests in a process of their own: what modules hold of a former run, and loops without end, end
 * with it.
 *
 * @param {readonly string[]} args
 * @param {Record<string, string>} settings for `vitest.config.ts` beside this file
 * @param {number} [limitMs] after which the run counts as failed
 * @returns {Promise<boolean>} whether all passed
 */
export function vitest(args, settings, limitMs) {
  const program = join(root, 'node_modules', 'vitest', 'vitest.mjs')
  const run = spawn(
    execPath,
    [program, 'run', '--config', 'scripts/mutate/vitest.config.ts', ...args],
    { cwd: root, stdio: 'ignore', detached: true, env: { ...env, ...settings } },
  )
  const { pid } = run
  if (pid !== undefined) running.add(pid)
  return new Promise((resolve) => {
    const limit =
      limitMs === undefined || pid === undefined
        ? undefined
        : setTimeout(() => endGroup(pid), limitMs)
    run.once('close', (status) => {
      clearTimeout(limit)
      if (pid !== undefined) running.delete(pid)
      resolve(status === 0)
    })
  })
}
