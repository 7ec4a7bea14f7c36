import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { slowness } from '../../scripts/machine-speed.mjs'
import { LongestFirst } from '../longest-first.ts'
import { unevenPatience } from './uneven.ts'

/** Limits are times of a quiet machine; on a slow or busy one they grow by this factor. */
const patience = slowness() * unevenPatience

/**
 * Browser tests run in three processes, each with one browser for all of its files: while one waits
 * for its page the others have the cores. No test gets a second try: one that fails now and then has a cause.
 */
export default defineConfig({
  root: fileURLToPath(new URL('../..', import.meta.url)),
  test: {
    environment: 'node',
    include: ['tests/browser/**/*.test.ts'],
    pool: 'forks',
    isolate: false,
    maxWorkers: 3,
    sequence: { sequencer: LongestFirst },
    provide: { patience },
    testTimeout: 90_000 * patience,
    hookTimeout: 90_000 * patience,
    expect: { poll: { timeout: 20_000 * patience } },
  },
})
