/**
 * Type-checks every tsconfig.*.json on its own, so that each border of the compiler holds.
 * `--incremental` remembers what was checked, for the next time.
 */
import { spawnSync } from 'node:child_process'
import { readdirSync } from 'node:fs'
import { argv, execPath, exit } from 'node:process'
import { fileURLToPath } from 'node:url'

const root = fileURLToPath(new URL('..', import.meta.url))
const configs = readdirSync(root).filter((name) => /^tsconfig\..+\.json$/.test(name))

let failed = 0
for (const config of configs) {
  const memory = argv.includes('--incremental')
    ? ['--incremental', '--tsBuildInfoFile', `node_modules/.cache/types-${config}`]
    : []
  const run = spawnSync(execPath, ['node_modules/typescript/bin/tsc', '-p', config, ...memory], {
    cwd: root,
    encoding: 'utf8',
  })
  const output = `${run.stdout ?? ''}${run.stderr ?? ''}`.trim()
  console.log(`${run.status === 0 ? 'ok    ' : 'FAILED'} ${config}`)
  if (output !== '') console.log(output)
  if (run.status !== 0) failed++
}
exit(failed === 0 ? 0 : 1)
