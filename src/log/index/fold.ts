/** Words of a search, as {@link fold} makes them: each has to occur. */
export const wordsOf = (text: string): string[] =>
  fold(text)
    .split(/\s+/)
    .filter((word) => word !== '')

/**
 * Text as it is searched: letter case, accents and compatibility forms are ignored (Unicode NFKD
 * without marks), control characters become blanks, so that they can separate fields.
 */
export function fold(text: string): string {
  // Plain ASCII is nearly all there is, and needs no normalising.
  if (/^[ -~]*$/.test(text)) return text.toLowerCase()
  return (
    text
      .normalize('NFKD')
      .replace(/\p{M}+/gu, '')
      .toLowerCase()
      // biome-ignore lint/suspicious/noControlCharactersInRegex: they separate the fields of a digest.
      .replace(/[\u0000-\u001f]+/g, ' ')
  )
}
