import { env } from 'node:process'
import fc from 'fast-check'

/**
 * Property tests draw the same values in every run, so that a run that fails fails by the change
 * and not by chance. Other values: `PROPERTY_SEED=7 npx vitest run tests/log`.
 */
fc.configureGlobal({ seed: Number(env.PROPERTY_SEED ?? 1) })
