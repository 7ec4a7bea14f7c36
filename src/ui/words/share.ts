export const SHARE_WORDS = {
  caution: 'An estimate by colour. No safety instrument: treat it as hot.',
  simulated: 'simulated',
} as const

/** A reading in one line of text, as it is sent along. */
export function shareText({
  figure,
  object,
  when,
  method,
  simulated,
}: {
  readonly figure: string
  readonly object: string
  readonly when: string
  readonly method: string
  readonly simulated: string | null
}): string {
  const parts = [object, figure, when, method, simulated].filter((part) => part)
  return `${parts.join(' · ')}. ${SHARE_WORDS.caution}`
}
