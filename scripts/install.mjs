/** Installs what the lock file asks for. Node's own modules only: it runs before anything else is there. */
import { spawnSync } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { env, execPath, exit, platform, versions } from 'node:process'
import { fileURLToPath } from 'node:url'

export const root = fileURLToPath(new URL('..', import.meta.url))

const leastNode = 20

/** Ends the process with a sentence when Node is too old or the installation fails. */
export function ensureInstalled() {
  if (Number(versions.node.split('.')[0]) < leastNode) {
    console.error(`Glowbook needs Node ${leastNode} or newer; this is Node ${versions.node}.`)
    exit(1)
  }
  const reason = whatIsMissing()
  if (reason === undefined) return
  // Not among what a script prints for others to read.
  console.error(`Installing packages (${reason}) ...`)
  const run = npm(['ci', '--include=dev', '--no-audit', '--no-fund'])
  if (run.status !== 0) {
    console.error('The installation failed; see above. It needs the network once.')
    exit(1)
  }
}

/** @returns {string | undefined} the first difference between the lock file and what is installed */
function whatIsMissing() {
  const record = join(root, 'node_modules', '.package-lock.json')
  if (!existsSync(record)) return 'none are installed'
  /** @typedef {Record<string, { version?: string, optional?: boolean }>} Packages */
  /** @param {string} file @returns {Packages} */
  const packages = (file) => JSON.parse(readFileSync(file, 'utf8')).packages
  const installed = packages(record)
  for (const [path, wanted] of Object.entries(packages(join(root, 'package-lock.json')))) {
    if (path === '') continue
    const have = installed[path]
    // Optional packages are those of other platforms.
    if (have === undefined && wanted.optional) continue
    if (have?.version !== wanted.version) return `${path} ${wanted.version} is wanted`
    if (!existsSync(join(root, path, 'package.json'))) return `${path} is gone`
  }
  return undefined
}

/**
 * Runs npm: the one that called this script, else the one beside this Node, else that of the path.
 * @param {string[]} args
 */
export function npm(args) {
  const beside = join(dirname(execPath), '..', 'lib', 'node_modules', 'npm', 'bin', 'npm-cli.js')
  const cli = [env.npm_execpath, beside].find((path) => path?.endsWith('.js') && existsSync(path))
  /** @type {import('node:child_process').SpawnSyncOptions} */
  const options = { cwd: root, stdio: ['inherit', 2, 'inherit'] }
  return cli === undefined
    ? spawnSync('npm', args, { ...options, shell: platform === 'win32' })
    : spawnSync(execPath, [cli, ...args], options)
}
