/** Mutants by name, so that a sample of them can be drawn before Stryker makes them. */
import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { Instrumenter } from '@stryker-mutator/instrumenter'
import fc from 'fast-check'
import { root } from '../install.mjs'

/** @typedef {Pick<import('@stryker-mutator/api/core').Mutant, 'fileName' | 'location' | 'mutatorName' | 'replacement'>} Named */

/** What it changes and where: the same in every copy of the sources. @param {Named} mutant */
export function nameOf({ fileName, location: { start, end }, mutatorName, replacement }) {
  const file = fileName.slice(fileName.lastIndexOf('src/'))
  return [file, start.line, start.column, end.line, end.column, mutatorName, replacement].join(' ')
}

const SILENT = new Proxy(/** @type {import('@stryker-mutator/api/logging').Logger} */ ({}), {
  get: () => () => false,
})

/**
 * All mutants of the files, as Stryker will make them.
 *
 * @param {readonly string[]} files paths below the root
 */
export async function mutantsOf(files) {
  const { mutants } = await new Instrumenter(SILENT).instrument(
    files.map((name) => ({ name, mutate: true, content: readFileSync(join(root, name), 'utf8') })),
    { plugins: null, excludedMutations: [], ignorers: [] },
  )
  return mutants
}

/**
 * Some of the mutants at random: the same again with the same seed and sources.
 *
 * @template T @param {readonly T[]} all @param {number} count @param {number} seed @returns {T[]}
 */
export function sampleOf(all, count, seed) {
  const length = Math.min(count, all.length)
  const draw = fc.shuffledSubarray([...all], { minLength: length, maxLength: length })
  return fc.sample(draw, { seed, numRuns: 1 })[0] ?? []
}
