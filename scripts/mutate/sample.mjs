/** The mutants of StrykerJS, in random order, in the source, and as probes. */
import { Instrumenter } from '@stryker-mutator/instrumenter'
import fc from 'fast-check'
import { textOf } from '../import-graph.mjs'

/**
 * What comes in whose place: lines and columns from 0.
 *
 * @typedef {{ line: number, column: number }} Place
 * @typedef {{ file: string, location: { start: Place, end: Place }, mutatorName: string, replacement: string }} Mutant
 */

const SILENT = new Proxy(/** @type {import('@stryker-mutator/api/logging').Logger} */ ({}), {
  get: () => () => false,
})
const OPTIONS = { plugins: null, excludedMutations: [], ignorers: [] }

/** @param {string} path */
const belowRoot = (path) => path.slice(path.lastIndexOf('src/'))

/**
 * All mutants of the files.
 *
 * @param {readonly string[]} files paths below the root
 * @returns {Promise<Mutant[]>}
 */
export async function mutantsOf(files) {
  const { mutants } = await new Instrumenter(SILENT).instrument(
    files.map((name) => ({ name, mutate: true, content: textOf(name) })),
    OPTIONS,
  )
  return mutants.map(({ fileName, location, mutatorName, replacement }) => ({
    file: belowRoot(fileName),
    location,
    mutatorName,
    replacement,
  }))
}

/**
 * All in random order: the same again with the same seed and sources.
 *
 * @template T @param {readonly T[]} all @param {number} seed @returns {T[]}
 */
export function shuffled(all, seed) {
  const draw = fc.shuffledSubarray([...all], { minLength: all.length, maxLength: all.length })
  return fc.sample(draw, { seed, numRuns: 1 })[0] ?? []
}

/**
 * The sources with a probe at each mutant, which counts runs through it, and the probes' names.
 *
 * @param {readonly Mutant[]} mutants
 * @returns {Promise<{ sources: Record<string, string>, ids: string[] }>}
 */
export async function probed(mutants) {
  const names = [...new Set(mutants.map(({ file }) => file))]
  const { files, mutants: probes } = await new Instrumenter(SILENT).instrument(
    names.map((name) => ({
      name,
      mutate: mutants.filter(({ file }) => file === name).map(({ location }) => location),
      content: textOf(name),
    })),
    OPTIONS,
  )
  /** @param {Mutant} mutant */
  const keyOf = ({ file, location, mutatorName, replacement }) =>
    JSON.stringify([file, location, mutatorName, replacement])
  const idByKey = new Map(
    probes.map((one) => [keyOf({ ...one, file: belowRoot(one.fileName) }), one.id]),
  )
  return {
    sources: Object.fromEntries(files.map(({ name, content }) => [belowRoot(name), content])),
    ids: mutants.map((mutant) => idByKey.get(keyOf(mutant)) ?? ''),
  }
}

/**
 * The source with the mutant in it.
 *
 * @param {string} source
 * @param {Pick<Mutant, 'location' | 'replacement'>} mutant
 */
export function withMutant(source, { location: { start, end }, replacement }) {
  const lines = source.split('\n')
  /** @param {Place} at */
  const offsetOf = ({ line, column }) =>
    lines.slice(0, line).reduce((sum, text) => sum + text.length + 1, column)
  // An expression keeps its place among its neighbours; statements and cases take no brackets.
  const put = /^\s*(\{|case |default)/.test(replacement) ? replacement : `(${replacement})`
  return source.slice(0, offsetOf(start)) + put + source.slice(offsetOf(end))
}

/** What the mutant takes the place of, in one line. @param {Mutant} mutant */
export function originalOf({ file, location: { start, end } }) {
  const lines = textOf(file)
    .split('\n')
    .slice(start.line, end.line + 1)
  const last = lines.length - 1
  return lines
    .map((line, i) => line.slice(i === 0 ? start.column : 0, i === last ? end.column : undefined))
    .join('\n')
    .replaceAll(/\s+/g, ' ')
}
