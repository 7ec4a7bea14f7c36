/** Which files differ from the branch main, or from the last commit on main itself. */
import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { root } from './install.mjs'

/** @param {string[]} args */
function git(args) {
  const { status, stdout } = spawnSync('git', args, { cwd: root, encoding: 'utf8' })
  return status === 0 ? stdout.split('\0').filter((line) => line !== '') : undefined
}

/**
 * Changed and new files, committed or not, as paths below the root; undefined without Git.
 *
 * @returns {{ since: string, files: string[] } | undefined}
 */
export function changedFiles() {
  const base = git(['merge-base', 'HEAD', 'main'])?.[0]?.trim()
  const head = git(['rev-parse', 'HEAD'])?.[0]?.trim()
  if (head === undefined) return undefined
  const branch = base !== undefined && base !== head
  const changed = git(['diff', '--name-only', '-z', branch ? base : head, '--']) ?? []
  const added = git(['ls-files', '--others', '--exclude-standard', '-z']) ?? []
  const files = [...new Set([...changed, ...added])].filter((file) => existsSync(join(root, file)))
  return { since: branch ? 'main' : 'the last commit', files }
}
