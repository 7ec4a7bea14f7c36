/**
 * The examples in docstrings, run. `@example CALL // RESULT; words` stands in the file whose exports
 * the call uses; the result is a value as JavaScript writes it, its numbers hold to the last printed
 * digit, and of an object only what is named is compared.
 */
import { join } from 'node:path'
import { expect, test } from 'vitest'
import { codeFiles, textOf } from '../scripts/import-graph.mjs'
import { root } from '../scripts/install.mjs'
import { expectPrinted } from './close-to.ts'

const examples = codeFiles(['src']).flatMap((file) =>
  [...textOf(file).matchAll(/@example (.+)/g)].map(([, line = '']) => [line, file] as const),
)

class Printed {
  readonly text: string
  constructor(text: string) {
    this.text = text
  }
}

/** The value that a remark states, each number kept as it is printed. */
function statedResult(remark: string): unknown {
  const value = remark.split(';')[0]!
  const tokens = /'[^']*'|[A-Za-z_$][\w$]*|-?\d[\d.]*(?:e[-+]?\d+)?/g
  const kept = value.replace(tokens, (token) => (/^-?\d/.test(token) ? `p('${token}')` : token))
  return new Function('p', `return (${kept})`)((text: string) => new Printed(text))
}

function expectStated(actual: unknown, stated: unknown, label: string): void {
  if (stated instanceof Printed) {
    expectPrinted(actual as number, stated.text, label)
  } else if (typeof stated === 'object' && stated !== null) {
    if (Array.isArray(stated)) expect(actual, label).toHaveLength(stated.length)
    for (const [key, part] of Object.entries(stated))
      expectStated((actual as Record<string, unknown>)[key], part, `${label}.${key}`)
  } else {
    expect(actual, label).toBe(stated)
  }
}

test('the docstrings hold examples', () => {
  expect(examples.length).toBeGreaterThan(10)
})

test.each(examples)('%s (%s)', async (line, file) => {
  const [call = '', remark] = line.split(/\s+\/\/ /)
  expect(remark, 'an example says what it gives: @example call // result').toBeDefined()
  const exports = await import(/* @vite-ignore */ join(root, file))
  const actual = new Function(...Object.keys(exports), `return (${call})`)(
    ...Object.values(exports),
  )
  expectStated(actual, statedResult(remark!), call)
})

test('a wrong example is noticed', () => {
  expect(() => expectStated(23.0931, statedResult('23.3'), 'Nu')).toThrow()
  expect(() => expectStated({ x: 1 }, statedResult('{ x: 2 }; words'), 'x')).toThrow()
  expect(() => expectStated([1, 2], statedResult('[1]'), 'list')).toThrow()
  expectStated({ x: 0.31272, name: 'D65' }, statedResult("{ x: 0.3127, name: 'D65' }"), 'fits')
})
