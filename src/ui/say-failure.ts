import { say } from './spoken.tsx'
import { logSentence } from './words/log-errors.ts'

/** Says what the log could not do; everything kept before stays. */
export const sayFailure = (error: unknown): void => say(logSentence(error))
