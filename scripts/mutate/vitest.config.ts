import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { env } from 'node:process'
import { defineConfig, mergeConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'
import unit from '../../vitest.config.ts'
import { type Mutant, withMutant } from './sample.mjs'

/** Unit tests over sources with one mistake in them, or with probes at many: see scripts/mutate.mjs. */
const mutant: Mutant | null = JSON.parse(env.GLOWBOOK_MUTANT ?? 'null')
const tests: string[] = JSON.parse(env.GLOWBOOK_TESTS ?? '[]')
const probes = env.GLOWBOOK_PROBES
const sources: Record<string, string> =
  probes === undefined ? {} : JSON.parse(readFileSync(join(probes, 'sources.json'), 'utf8'))

/** The first that fails ends the run. */
class AsGiven extends BaseSequencer {
  override async sort(files: TestSpecification[]) {
    const place = ({ moduleId }: TestSpecification) =>
      tests.findIndex((path) => moduleId.endsWith(path))
    return files.toSorted((a, b) => place(a) - place(b))
  }
}

const changed = (code: string, id: string): string | undefined =>
  mutant !== null && id.endsWith(mutant.file)
    ? withMutant(code, mutant)
    : sources[id.slice(id.lastIndexOf('src/'))]

export default defineConfig((mode) =>
  mergeConfig(unit(mode), {
    plugins: [{ name: 'mistakes', enforce: 'pre', transform: changed }],
    test:
      probes === undefined
        ? { maxWorkers: 1, sequence: { sequencer: AsGiven } }
        : // Each file with fresh modules, so that what a module does once counts for each.
          { isolate: true, setupFiles: ['scripts/mutate/record-run.ts'] },
  }),
)
