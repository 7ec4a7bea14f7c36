import { fileURLToPath } from 'node:url'
import { defineConfig } from 'vitest/config'
import { slowness } from '../../scripts/machine-speed.mjs'

const slow = slowness()

/** The main journeys in every engine that phones and desks have; one after the other. */
export default defineConfig({
  root: fileURLToPath(new URL('../..', import.meta.url)),
  test: {
    environment: 'node',
    include: ['tests/engines/**/*.test.ts'],
    fileParallelism: false,
    testTimeout: 90_000 * slow,
    hookTimeout: 120_000 * slow,
  },
})
