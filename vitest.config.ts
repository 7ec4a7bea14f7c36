import { availableParallelism } from 'node:os'
import { defineConfig, mergeConfig } from 'vitest/config'
import { slowness } from './scripts/machine-speed.mjs'
import { LongestFirst } from './tests/longest-first.ts'
import app from './vite.config.ts'

const slow = slowness()
/** The longest takes 5 s on a quiet machine: a limit ends what hangs, whatever else the machine does. */
const limitMs = 120_000 * slow

/** The unit tests. */
export default defineConfig((env) =>
  mergeConfig(
    { ...app(env), plugins: [] },
    {
      oxc: { jsx: { runtime: 'automatic', importSource: 'preact' } },
      test: {
        environment: 'node',
        include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
        exclude: ['tests/browser/**', 'tests/engines/**', 'tests/bench/**'],
        // One thread runs many files in one set of modules: a third less work. Files must not lean on
        // a module being fresh.
        setupFiles: ['tests/same-draws.ts'],
        pool: 'forks',
        execArgv: ['--min-semi-space-size=32', '--max-semi-space-size=64'],
        isolate: false,
        // All cores: without a word one is left idle, which on two cores is half of them.
        maxWorkers: availableParallelism(),
        sequence: { sequencer: LongestFirst },
        unstubGlobals: true,
        restoreMocks: true,
        testTimeout: limitMs,
        hookTimeout: limitMs,
        expect: { poll: { timeout: 20_000 * slow, interval: 10 } },
      },
    },
  ),
)
