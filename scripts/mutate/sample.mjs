/** The mutants of StrykerJS, and a random sample of them. */
import { Instrumenter } from '@stryker-mutator/instrumenter'
import fc from 'fast-check'
import { textOf } from '../import-graph.mjs'

const SILENT = new Proxy(/** @type {import('@stryker-mutator/api/logging').Logger} */ ({}), {
  get: () => () => false,
})

/**
 * All mutants of the files: what stands where (lines and columns from 0) and what comes in its place.
 *
 * @param {readonly string[]} files paths below the root
 */
export async function mutantsOf(files) {
  const { mutants } = await new Instrumenter(SILENT).instrument(
    files.map((name) => ({ name, mutate: true, content: textOf(name) })),
    { plugins: null, excludedMutations: [], ignorers: [] },
  )
  return mutants.map(({ fileName, location, mutatorName, replacement }) => ({
    file: fileName.slice(fileName.lastIndexOf('src/')),
    location,
    mutatorName,
    replacement,
  }))
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

/**
 * The source with the mutant in it.
 *
 * @param {string} source
 * @param {Pick<Awaited<ReturnType<typeof mutantsOf>>[number], 'location' | 'replacement'>} mutant
 */
export function withMutant(source, { location: { start, end }, replacement }) {
  const lines = source.split('\n')
  /** @param {{ line: number, column: number }} at */
  const offsetOf = ({ line, column }) =>
    lines.slice(0, line).reduce((sum, text) => sum + text.length + 1, column)
  // An expression keeps its place among its neighbours; statements and cases take no brackets.
  const put = /^\s*(\{|case |default)/.test(replacement) ? replacement : `(${replacement})`
  return source.slice(0, offsetOf(start)) + put + source.slice(offsetOf(end))
}
