import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { env } from 'node:process'
import { defineConfig, mergeConfig } from 'vitest/config'
import { BaseSequencer, type TestSpecification } from 'vitest/node'
import unit from '../../vitest.config.ts'

/**
 * Unit tests over sources that carry probes and mutants (see scripts/mutate.mjs): all once, to see
 * which run through what, or those given, in that order: the first that fails ends the run.
 */
const folder = env.GLOWBOOK_PROBES ?? ''
const sources: Record<string, string> = JSON.parse(
  readFileSync(join(folder, 'sources.json'), 'utf8'),
)

class AsGiven extends BaseSequencer {
  override async sort(files: TestSpecification[]) {
    return files
  }
}

export default defineConfig((mode) =>
  mergeConfig(unit(mode), {
    plugins: [
      {
        name: 'mutants',
        enforce: 'pre',
        transform: (_: string, id: string) => sources[id.slice(id.lastIndexOf('src/'))],
      },
    ],
    test:
      env.GLOWBOOK_COUNT === undefined
        ? { sequence: { sequencer: AsGiven } }
        : // Each file with fresh modules, so that what a module does once counts for each.
          { isolate: true, setupFiles: ['scripts/mutate/record-run.ts'] },
  }),
)
