import { say } from '../ui/spoken.tsx'
import { logSentence } from '../ui/words/log-errors.ts'

/** Says what the log could not do; everything kept before stays. */
export const sayFailure = (error: unknown): void => say(logSentence(error))
