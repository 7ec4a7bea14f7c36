import { TERM_NAMES } from './estimate.ts'

/** Terms of budgets that are not those of a glow read by colour. */
const OTHER_TERMS: Readonly<Record<string, string>> = {
  bracket: 'Bracket by eye',
  'naming charts': 'Spread of the naming charts',
  'by hand': 'As entered',
}

/** A term of a stored budget; one that this version does not know keeps its own name. */
export function termName(term: string): string {
  const known = (TERM_NAMES as Readonly<Record<string, string>>)[term] ?? OTHER_TERMS[term]
  return known ?? term.charAt(0).toUpperCase() + term.slice(1)
}
