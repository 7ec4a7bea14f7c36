/**
 * Looks through the files under version control for addresses that hold on one machine only: paths
 * of a home or work folder, hosts of a package registry.
 */
import { spawnSync } from 'node:child_process'
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { root } from './install.mjs'

const patterns = [
  // A folder of one machine at the start of a path; not part of a longer path or address.
  /(?<![\w.~@})/-])\/(?:work|tmp|root|home\/[\w.-]+|Users\/[\w.-]+)\/[\w.-]/,
  /\b[A-Z]:\\Users\\/,
  /\bregistry\.(?:npmjs|yarnpkg)\.[a-z]+/,
  /(?<![\w.])localhost:\d+\/(?:npm|repository|artifactory)/,
]
const binary = /\.(png|jpe?g|dng|wasm|ico|woff2|avif|webp)$/i

const listing = spawnSync('git', ['ls-files', '-z'], { cwd: root, encoding: 'utf8' })
if (listing.status !== 0) {
  console.log('Not a git checkout: nothing to look through.')
  process.exit(0)
}
let found = 0
for (const file of listing.stdout.split('\0').filter((name) => name !== '' && !binary.test(name))) {
  const lines = textOf(file).split('\n')
  for (const [index, line] of lines.entries()) {
    if (!patterns.some((pattern) => pattern.test(line))) continue
    found++
    console.error(`${file}:${index + 1}: ${line.trim().slice(0, 120)}`)
  }
}
if (found > 0) process.exitCode = 1
console.log(`${found} lines hold on one machine only.`)

/** @param {string} file empty for a file that is deleted but not yet committed */
function textOf(file) {
  try {
    return readFileSync(join(root, file), 'utf8')
  } catch {
    return ''
  }
}
