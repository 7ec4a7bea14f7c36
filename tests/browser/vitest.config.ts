import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'

/** Browser tests run one after the other: each file has a browser of its own, and the cores are few. */
export default defineConfig({
  root: fileURLToPath(new URL('../..', import.meta.url)),
  test: {
    environment: 'node',
    include: ['tests/browser/**/*.test.ts'],
    fileParallelism: false,
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // A browser that a busy machine has starved gets one more try; what is broken fails twice.
    retry: 1,
    // A busy machine takes its time; a thing that never comes still fails.
    expect: { poll: { timeout: 20_000 } },
  },
})
