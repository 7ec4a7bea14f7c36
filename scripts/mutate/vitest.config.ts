import { defineConfig, mergeConfig } from 'vitest/config'
import unit from '../../vitest.config.ts'

/** The tests that have to notice a mutation: those beside the mutated folders. */
export default defineConfig((env) => {
  const { test, ...app } = unit(env)
  return mergeConfig(app, {
    test: {
      ...test,
      include: [
        'tests/{numerics,physics,colour,light,estimate,log,session}/**/*.test.{ts,tsx}',
        'tests/{examples,dimensions}.test.ts',
      ],
      // A mutant is chosen for a run of one file: what the file imports has to be fresh.
      isolate: true,
    },
  })
})
