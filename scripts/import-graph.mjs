/** Which file imports which, read from the text: imports name the file with its ending. */
import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join, normalize } from 'node:path/posix'
import { root } from './install.mjs'

const code = /\.(tsx?|mjs)$/
const importing = /(?:\bfrom\s*|\bimport\s*\(?\s*|\bnew URL\(\s*)'(\.{1,2}\/[^'?]+)(?:\?[^']*)?'/g

/**
 * Paths below the root, with forward slashes.
 *
 * @param {readonly string[]} folders
 * @returns {string[]}
 */
export function codeFiles(folders) {
  return folders.flatMap((folder) =>
    readdirSync(join(root, folder), { recursive: true, encoding: 'utf8' })
      .map((name) => `${folder}/${name.replaceAll('\\', '/')}`)
      .filter((path) => code.test(path))
      .sort(),
  )
}

/** @param {string} path */
export const textOf = (path) => readFileSync(join(root, path), 'utf8')

/**
 * What each file imports, types too, as far as it lies among the files.
 *
 * @param {readonly string[]} files
 * @returns {Map<string, string[]>}
 */
export function importGraph(files) {
  const known = new Set(files)
  return new Map(
    files.map((file) => {
      const found = [...textOf(file).matchAll(importing)].map(([, target]) =>
        normalize(join(dirname(file), target ?? '')),
      )
      return [file, [...new Set(found)].filter((target) => known.has(target))]
    }),
  )
}

/**
 * How many imports lie between each file and the nearest of some others, 0 for these themselves;
 * files that depend on none of them are left out.
 *
 * @param {Map<string, string[]>} graph
 * @param {Iterable<string>} changed
 * @returns {Map<string, number>}
 */
export function distancesFrom(graph, changed) {
  /** @type {Map<string, string[]>} */
  const importers = new Map()
  for (const [file, targets] of graph)
    for (const target of targets) importers.set(target, [...(importers.get(target) ?? []), file])
  /** @type {Map<string, number>} */
  const distances = new Map()
  let edge = [...changed]
  for (let distance = 0; edge.length > 0; distance++) {
    for (const file of edge) distances.set(file, distance)
    const next = edge.flatMap((file) => importers.get(file) ?? [])
    edge = [...new Set(next)].filter((file) => !distances.has(file))
  }
  return distances
}
