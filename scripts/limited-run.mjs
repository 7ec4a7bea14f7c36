/**
 * Runs a script of Node that must end: on a slow or busy machine it is given more time.
 *
 * The watch and the script run in a session of their own: all of it can be ended at once, and the watch
 * measures the speed that the script has. A system may share its time between sessions first, so that
 * a watch outside would see another speed.
 */
import { spawn } from 'node:child_process'
import process, { argv, execPath, exit, kill, platform } from 'node:process'
import { fileURLToPath } from 'node:url'
import { root } from './install.mjs'
import { machineClock } from './machine-speed.mjs'

/** What no step comes near, in time of a quiet machine. It ends what hangs, it judges no speed. */
const limitMs = 10 * 60 * 1000
const lookEveryMs = 10_000

const here = fileURLToPath(import.meta.url)
const hasSessions = platform !== 'win32'

/**
 * Resolves to whether the script ended well. One that hangs is ended with all that it started, and a
 * sentence says so.
 *
 * @param {string} name @param {string[]} args @param {NodeJS.ProcessEnv} env
 * @param {{ aside?: boolean }} [options] aside: what it prints comes in one piece at its end
 */
export async function limitedRun(name, args, env, { aside = false } = {}) {
  const watch = spawn(execPath, [here, name, ...args], {
    cwd: root,
    stdio: aside ? ['ignore', 'pipe', 'pipe'] : 'inherit',
    detached: hasSessions,
    env,
  })
  /** @type {Buffer[]} */
  const printed = []
  for (const stream of [watch.stdout, watch.stderr])
    stream?.on('data', (piece) => printed.push(piece))
  // A session of its own does not hear the terminal's Ctrl+C.
  const interrupted = () => {
    if (watch.pid !== undefined) endSession(watch.pid, 'SIGTERM')
    exit(130)
  }
  process.once('SIGINT', interrupted)
  process.once('SIGTERM', interrupted)
  const ok = await endedWell(watch)
  process.off('SIGINT', interrupted)
  process.off('SIGTERM', interrupted)
  if (aside) process.stdout.write(`\n--- ${name}\n${Buffer.concat(printed)}`)
  return ok
}

/** The watch: runs the script beside itself, and ends the session when it hangs. */
async function watchOver(/** @type {string} */ name, /** @type {string[]} */ args) {
  const clock = machineClock()
  const script = spawn(execPath, args, { cwd: root, stdio: 'inherit' })
  setInterval(() => {
    const { quietMs, wallMs, slowness } = clock.read()
    if (quietMs < limitMs) return
    console.error(`
${name}: stopped after ${minutes(wallMs)}. A quiet machine would have done ${minutes(quietMs)} of work
in that time (now this one is ${slowness.toFixed(1)} times slower), and no step needs that much: something hangs.
Look above for the last thing that ended, and run the step by itself.`)
    if (hasSessions) endSession(process.pid, 'SIGKILL')
    script.kill('SIGKILL')
  }, lookEveryMs).unref()
  exit((await endedWell(script)) ? 0 : 1)
}

/** @param {import('node:child_process').ChildProcess} child @returns {Promise<boolean>} */
const endedWell = (child) =>
  new Promise((resolve) => {
    child.once('error', (error) => {
      console.error(error.message)
      resolve(false)
    })
    child.once('close', (status) => resolve(status === 0))
  })

/** @param {number} pid the first process of the session @param {NodeJS.Signals} signal */
function endSession(pid, signal) {
  try {
    kill(hasSessions ? -pid : pid, signal)
  } catch {
    // It has just ended by itself.
  }
}

/** @param {number} ms */
const minutes = (ms) => `${(ms / 60_000).toFixed(1)} min`

if (argv[1] === here) await watchOver(argv[2] ?? '', argv.slice(3))
