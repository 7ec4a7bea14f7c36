/** Runs a script of Node that must end: on a slow or busy machine it is given more time. */
import { spawn } from 'node:child_process'
import process, { execPath, exit, kill, platform } from 'node:process'
import { root } from './install.mjs'
import { machineClock } from './machine-speed.mjs'

/** What no step comes near, in time of a quiet machine. It ends what hangs, it judges no speed. */
const limitMs = 10 * 60 * 1000
const lookEveryMs = 10_000

/**
 * Resolves to whether the script ended well. One that hangs is ended with all that it started, and a
 * sentence says so.
 *
 * @param {string} name @param {string[]} args @param {NodeJS.ProcessEnv} env
 */
export async function limitedRun(name, args, env) {
  const inGroup = platform !== 'win32'
  const child = spawn(execPath, args, { cwd: root, stdio: 'inherit', detached: inGroup, env })
  /** @param {NodeJS.Signals} signal */
  const end = (signal) => {
    if (child.pid === undefined) return
    try {
      kill(inGroup ? -child.pid : child.pid, signal)
    } catch {
      // It has just ended by itself.
    }
  }
  // A group of its own does not hear the terminal's Ctrl+C.
  const interrupted = () => {
    end('SIGTERM')
    exit(130)
  }
  process.once('SIGINT', interrupted)
  process.once('SIGTERM', interrupted)
  const clock = machineClock()
  const watch = setInterval(() => {
    const { quietMs, wallMs, slowness } = clock.read()
    if (quietMs < limitMs) return
    clearInterval(watch)
    console.error(`
${name}: stopped after ${minutes(wallMs)}. A quiet machine would have done ${minutes(quietMs)} of work
in that time (now this one is ${slowness.toFixed(1)} times slower), and no step needs that much: something hangs.
Look above for the last thing that ended, and run the step by itself.`)
    end('SIGKILL')
  }, lookEveryMs)
  const status = await new Promise((resolve) => {
    child.once('error', (error) => {
      console.error(error.message)
      resolve(1)
    })
    child.once('close', resolve)
  })
  clearInterval(watch)
  process.off('SIGINT', interrupted)
  process.off('SIGTERM', interrupted)
  return status === 0
}

/** @param {number} ms */
const minutes = (ms) => `${(ms / 60_000).toFixed(1)} min`
