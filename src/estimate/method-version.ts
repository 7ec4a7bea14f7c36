/**
 * Stored with each result: raised when the same input would give another temperature or uncertainty,
 * so that a later version knows what to compute again.
 */
export const METHOD_VERSION = 'glow 14'
