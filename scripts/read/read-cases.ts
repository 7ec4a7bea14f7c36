import { readFile } from 'node:fs/promises'
import { join } from 'node:path'
import * as v from 'valibot'

/** What a case is answered with; figures are null where there is none. */
export interface Answer {
  readonly id: string
  readonly temperatureK: number | null
  readonly standardUncertaintyK: number | null
  readonly low95K: number | null
  readonly high95K: number | null
  /** Code of the refusal. */
  readonly refused: string | null
  readonly findings: readonly unknown[]
  /** In words: why the case could not be put to the app at all. */
  readonly error?: string
}

/** Reads cases of one kind. It is opened at the first case of its kind and closed after the last. */
export interface CaseReader {
  /** @throws Error in words when the case is not as it should be */
  read(given: unknown): Promise<Omit<Answer, 'id'>>
  close(): Promise<void>
}

/** How each kind of case is opened; its module exports `openReader(folder)`. */
const KINDS: Readonly<Record<string, string>> = {
  spectrum: 'scripts/read/spectrum-case.ts',
  photo: 'scripts/read/photo-case.ts',
}

export const NO_FIGURE = {
  temperatureK: null,
  standardUncertaintyK: null,
  low95K: null,
  high95K: null,
  findings: [],
} as const

const caseHead = v.object({ id: v.string(), kind: v.picklist(Object.keys(KINDS)) })

/**
 * @param folder holds cases.json; files are named relative to it
 * @param load imports a module by its path
 * @throws Error when cases.json itself is missing or no list
 */
export async function readCases(
  folder: string,
  load: (path: string) => Promise<Record<string, unknown>>,
): Promise<readonly Answer[]> {
  const cases = v.parse(
    v.array(v.unknown()),
    JSON.parse(await readFile(join(folder, 'cases.json'), 'utf8')),
  )
  const readers = new Map<string, CaseReader>()
  const readerOf = async (kind: string) => {
    const open = readers.get(kind)
    if (open) return open
    const { openReader } = (await load(KINDS[kind]!)) as {
      openReader: (folder: string) => Promise<CaseReader>
    }
    const reader = await openReader(folder)
    readers.set(kind, reader)
    return reader
  }
  const answers: Answer[] = []
  try {
    for (const [place, given] of cases.entries()) {
      try {
        const { kind } = v.parse(caseHead, given)
        answers.push({ id: idOf(given, place), ...(await (await readerOf(kind)).read(given)) })
      } catch (error) {
        answers.push({
          id: idOf(given, place),
          ...NO_FIGURE,
          refused: 'bad case',
          error: wordsOf(error),
        })
      }
    }
  } finally {
    for (const reader of readers.values()) await reader.close()
  }
  return answers
}

/** A case without a usable id is told by its place, from 0. */
function idOf(given: unknown, place: number): string {
  const parsed = v.safeParse(v.object({ id: v.string() }), given)
  return parsed.success ? parsed.output.id : String(place)
}

function wordsOf(error: unknown): string {
  if (!(error instanceof v.ValiError)) return error instanceof Error ? error.message : String(error)
  return error.issues
    .map((issue) => `${v.getDotPath(issue) ?? 'case'}: ${issue.message}`)
    .join('; ')
}
