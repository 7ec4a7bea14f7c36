/** Which mistakes the compiler refuses: no test has to notice these. */
import { spawnSync } from 'node:child_process'
import { cpSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { execPath } from 'node:process'
import { textOf } from '../import-graph.mjs'
import { root } from '../install.mjs'
import { withMutant } from './sample.mjs'

/** @typedef {import('./sample.mjs').Mutant} Mutant */

/** What `tsconfig.app.json` reads: the practice photo is written by the writers of test pictures. */
const READ = ['src', 'tests/making', 'package.json', 'tsconfig.json', 'tsconfig.app.json']

/** Mistakes are put into a copy of the sources: nothing of them can stay behind in the real ones. */
export function compiler() {
  const copy = mkdtempSync(join(tmpdir(), 'glowbook-types-'))
  for (const part of READ) cpSync(join(root, part), join(copy, part), { recursive: true })
  symlinkSync(join(root, 'node_modules'), join(copy, 'node_modules'), 'junction')
  const command = [
    join(root, 'node_modules', 'typescript', 'bin', 'tsc'),
    ...['-p', 'tsconfig.app.json', '--incremental', '--tsBuildInfoFile', 'types.tsbuildinfo'],
    // A name that a mistake leaves without use is no error of types.
    ...['--noUnusedLocals', 'false', '--noUnusedParameters', 'false'],
    ...['--allowUnreachableCode', 'true'],
  ]
  /** Files with errors of types while the mutants, one a file, are in. @param {readonly Mutant[]} mutants */
  const filesRefused = (mutants) => {
    for (const mutant of mutants)
      writeFileSync(join(copy, mutant.file), withMutant(textOf(mutant.file), mutant))
    const { stdout } = spawnSync(execPath, command, { cwd: copy, encoding: 'utf8' })
    for (const { file } of mutants) writeFileSync(join(copy, file), textOf(file))
    return new Set([...stdout.matchAll(/^(.+?)\(\d+,\d+\): error/gm)].map(([, file]) => file))
  }
  /** @param {readonly Mutant[]} mutants @returns {Mutant[]} */
  const accepted = (mutants) => {
    const refused = filesRefused(mutants)
    if (refused.size === 0) return [...mutants]
    // An error lies nearly always in the file of its mistake; elsewhere, halving finds it.
    const others = mutants.filter(({ file }) => !refused.has(file))
    if (others.length < mutants.length) return accepted(others)
    if (mutants.length < 2) return []
    const half = mutants.length >> 1
    return [...accepted(mutants.slice(0, half)), ...accepted(mutants.slice(half))]
  }
  if (filesRefused([]).size > 0)
    throw new Error('The sources have errors of types: mend them first.')
  return {
    /** Those without an error of types: many at a time, one a file. @param {readonly Mutant[]} mutants */
    accepted(mutants) {
      let left = [...mutants]
      /** @type {Set<Mutant>} */
      const good = new Set()
      while (left.length > 0) {
        const together = [...new Map(left.map((mutant) => [mutant.file, mutant])).values()]
        for (const mutant of accepted(together)) good.add(mutant)
        left = left.filter((mutant) => !together.includes(mutant))
      }
      return mutants.filter((mutant) => good.has(mutant))
    },
    end: () => rmSync(copy, { recursive: true }),
  }
}
