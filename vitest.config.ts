import { defineConfig, mergeConfig } from 'vitest/config'
import { slowness } from './scripts/machine-speed.mjs'
import app from './vite.config.ts'

/** What no unit test comes near on a quiet machine: a limit ends what hangs. */
const limitMs = 30_000 * slowness()

/** The unit tests. */
export default defineConfig((env) =>
  mergeConfig(app(env), {
    test: {
      environment: 'node',
      include: ['tests/**/*.test.ts', 'tests/**/*.test.tsx'],
      exclude: ['tests/browser/**', 'tests/bench/**'],
      // One thread runs many files in one set of modules: a third less work. Files must not lean on
      // a module being fresh.
      pool: 'threads',
      isolate: false,
      unstubGlobals: true,
      restoreMocks: true,
      testTimeout: limitMs,
      hookTimeout: limitMs,
    },
  }),
)
