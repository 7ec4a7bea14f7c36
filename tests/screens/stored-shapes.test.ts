import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import * as v from 'valibot'
import { expect, test } from 'vitest'
import { issueText } from '../../src/log/index/rows.ts'
import { ALL_SAMPLES } from './all-samples.ts'
import { numbersOf, withLeaf } from './stored-samples.ts'

/**
 * The shapes in which things are kept and brought are found by the calls that read them: a new one fails
 * here until each of its numbers has two ends and stands in a sample that the walk through extremes takes.
 */

const root = fileURLToPath(new URL('../../src/', import.meta.url))
const modules = import.meta.glob<Record<string, unknown>>('../../src/{log,session,sources}/**/*.ts')
const READS = /\bv\.(?:safeParse|parse|is)\(\s*(\w+)/g
/** Each of its fields is read for itself; the whole is read beside it. */
const OF_ITS_OWN_FIELDS = 'schema'

type Schema = v.GenericSchema & {
  readonly type: string
  readonly pipe?: readonly { readonly type: string }[]
  readonly entries?: Record<string, Schema>
  readonly item?: Schema
  readonly items?: readonly Schema[]
  readonly options?: readonly Schema[]
  readonly wrapped?: Schema
}
const isSchema = (value: unknown): value is Schema =>
  typeof value === 'object' && value !== null && (value as Schema).kind === 'schema'

interface Leaf {
  readonly path: string
  readonly of: Schema
}

/** All numbers of a schema; of a list or a row the place is '#'. */
function leavesOf(schema: Schema, path: readonly string[] = []): Leaf[] {
  if (schema.type === 'number') return [{ path: path.join('.'), of: schema }]
  const inside = [
    ...Object.entries(schema.entries ?? {}).map(([name, of]) => [name, of] as const),
    ...[schema.item ?? [], schema.items ?? []].flat().map((of) => ['#', of] as const),
  ]
  const same = [schema.wrapped ?? [], schema.options ?? []].flat()
  return [
    ...inside.flatMap(([name, of]) => leavesOf(of, [...path, name])),
    ...same.flatMap((of) => leavesOf(of, path)),
  ]
}

function hasTwoEnds({ pipe = [] }: Schema): boolean {
  const has = (type: string) => pipe.some((step) => step.type === type)
  const inner = pipe.filter((step): step is Schema => isSchema(step) && 'pipe' in step)
  return (has('min_value') && has('max_value')) || inner.some(hasTwoEnds)
}

const reading = readdirSync(root, { recursive: true, encoding: 'utf8' })
  .filter((file) => /^(log|session|sources)\/.*\.ts$/.test(file))
  .map((file) => ({ file, text: readFileSync(root + file, 'utf8') }))
  .filter(({ text }) => text.includes("from 'valibot'"))

/** Every schema by which something is read, by its exported name. */
async function readShapes(): Promise<{ shapes: Map<string, Schema>; hidden: string[] }> {
  const exported = new Map<string, Schema[]>()
  for (const { file } of reading)
    for (const [name, value] of Object.entries(await modules[`../../src/${file}`]!())) {
      const all = isSchema(value) ? [value] : Object.values(value ?? {}).filter(isSchema)
      if (all.length > 0) exported.set(name, all)
    }
  const shapes = new Map<string, Schema>()
  const hidden: string[] = []
  for (const { file, text } of reading)
    for (const [, called = ''] of text.matchAll(READS)) {
      const name = new RegExp(`(\\w+) as ${called}\\b`).exec(text)?.[1] ?? called
      const found = exported.get(name)
      if (found) for (const [i, one] of found.entries()) shapes.set(`${name} ${i}`, one)
      else if (name !== OF_ITS_OWN_FIELDS) hidden.push(`${file}: ${name} is not exported`)
    }
  return { shapes, hidden }
}

const { shapes, hidden } = await readShapes()

test('what is read has a schema that can be walked', () => {
  expect(hidden).toEqual([])
  expect(shapes.size).toBeGreaterThan(25)
})

test('no number is read without a least and a most value', () => {
  const open = [...shapes].flatMap(([name, schema]) =>
    leavesOf(schema)
      .filter(({ of }) => !hasTwoEnds(of))
      .map(({ path }) => `${name}: ${path}`),
  )
  expect(open).toEqual([])
})

test('the samples reach every number of every shape', () => {
  const missing = [...shapes].flatMap(([name, schema]) => {
    const wanted = leavesOf(schema).filter(({ path }) => path !== '')
    if (wanted.length === 0) return []
    const reached = new Set(
      ALL_SAMPLES.filter((sample) => v.is(schema, sample)).flatMap((sample) =>
        numbersOf(sample).map((path) =>
          path.map((part) => (typeof part === 'number' ? '#' : part)).join('.'),
        ),
      ),
    )
    return wanted.flatMap(({ path }) => (reached.has(path) ? [] : [`${name}: ${path}`]))
  })
  expect(missing).toEqual([])
})

test('a number that is none is refused by the name of its field in every shape', () => {
  const wrong: string[] = []
  for (const [name, schema] of shapes) {
    const walked = new Set<string>()
    const bounded = new Set(leavesOf(schema).map(({ path }) => path))
    for (const sample of ALL_SAMPLES.filter((one) => v.is(schema, one)))
      for (const path of numbersOf(sample)) {
        const at = path.map((part) => (typeof part === 'number' ? '#' : part)).join('.')
        if (walked.has(at) || !bounded.has(at)) continue
        walked.add(at)
        const field = path.findLast((part) => typeof part === 'string') ?? ''
        for (const extreme of [1e308, -1e308, Number.NaN, Number.POSITIVE_INFINITY]) {
          const parsed = v.safeParse(schema, withLeaf(sample, path, extreme))
          const problem = parsed.success ? 'taken' : issueText(parsed.issues)
          const former = Math.abs(extreme) === 1e308 && /^(reading1|picture1)/.test(name)
          if (!former && !problem.includes(String(field)))
            wrong.push(`${name}: ${at} = ${extreme}: ${problem}`)
        }
      }
  }
  expect(wrong).toEqual([])
})
