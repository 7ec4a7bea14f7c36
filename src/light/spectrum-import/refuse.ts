import type { BadLines, ImportRefusal, RefusalCode } from './result.ts'
import { excerpt } from './rows.ts'

export function refuse(
  code: RefusalCode,
  line: number | null = null,
  text: string | null = null,
  badLines: BadLines | null = null,
): ImportRefusal {
  return { ok: false, code, line, text: text === null ? null : excerpt(text), badLines }
}
