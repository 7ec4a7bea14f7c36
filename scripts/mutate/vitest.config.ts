import { env } from 'node:process'
import { defineConfig, mergeConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'
import unit from '../../vitest.config.ts'
import { withMutant } from './sample.mjs'

/** Unit tests over sources with one mistake in them: scripts/mutate.mjs says which, and which tests. */
const mutant = JSON.parse(env.GLOWBOOK_MUTANT ?? 'null')
const tests: string[] = JSON.parse(env.GLOWBOOK_TESTS ?? '[]')

/** Nearest first: the first that fails ends the run. */
class AsGiven extends BaseSequencer {
  override async sort(files: TestSpecification[]) {
    const place = ({ moduleId }: TestSpecification) =>
      tests.findIndex((path) => moduleId.endsWith(path))
    return files.toSorted((a, b) => place(a) - place(b))
  }
}

export default defineConfig((mode) =>
  mergeConfig(unit(mode), {
    plugins: [
      {
        name: 'one mistake',
        enforce: 'pre',
        transform: (code: string, id: string) =>
          mutant !== null && id.endsWith(mutant.file) ? withMutant(code, mutant) : undefined,
      },
    ],
    test: { maxWorkers: 1, sequence: { sequencer: AsGiven } },
  }),
)
