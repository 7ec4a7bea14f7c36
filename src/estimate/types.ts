/**
 * What the estimate takes and gives. Everything here is plain JSON (finite numbers, strings, null):
 * a log entry keeps a whole GlowInput so that a later version can compute it again.
 * Codes, no sentences: the words stand in src/ui/words.
 */
export type * from './glow-estimate.ts'
export type * from './glow-input.ts'
