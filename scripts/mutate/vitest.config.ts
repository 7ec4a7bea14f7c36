import { env } from 'node:process'
import { defineConfig, mergeConfig } from 'vitest/config'
import unit from '../../vitest.config.ts'

/** The tests that have to notice a mutation: scripts/mutate.mjs chooses them. */
export default defineConfig((mode) => {
  const { test, ...app } = unit(mode)
  return mergeConfig(app, {
    test: {
      ...test,
      include: JSON.parse(env.GLOWBOOK_MUTANT_TESTS ?? '[]'),
      // A mutant is chosen for a run of one file: what the file imports has to be fresh.
      isolate: true,
    },
  })
})
