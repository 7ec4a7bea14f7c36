/**
 * npm run browser: builds the app and runs the browser tests against it; further arguments go to
 * Vitest. `npm run browser -- --no-build tests/browser/shell.test.ts` takes the app as built before.
 */
import { spawnSync } from 'node:child_process'
import { argv, execPath, exit } from 'node:process'
import { root } from './install.mjs'

const args = argv.slice(2)
/** @param {string[]} command */
const run = (command) => spawnSync(execPath, command, { cwd: root, stdio: 'inherit' }).status ?? 1

if (!args.includes('--no-build')) {
  const status = run(['scripts/build.mjs'])
  if (status !== 0) exit(status)
}
exit(
  run([
    'node_modules/vitest/vitest.mjs',
    'run',
    '--config',
    'tests/browser/vitest.config.ts',
    ...args.filter((arg) => arg !== '--no-build'),
  ]),
)
