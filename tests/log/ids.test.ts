import * as v from 'valibot'
import { expect, test } from 'vitest'
import { id } from '../../src/log/schema/fields.ts'

// RFC 9562, 4: 8-4-4-4-12 hexadecimal digits; lower case when written.
test('an id is a UUID and nothing before or behind it: it becomes the name of a file', () => {
  const good = '0190163d-8694-7c34-8b64-bd2c7a1a0d9f'
  expect(v.is(id, good)).toBe(true)
  for (const bad of [
    `../${good}`,
    `${good}/../x`,
    `${good}\n`,
    ` ${good}`,
    good.toUpperCase(),
    good.slice(1),
    good.replaceAll('-', ''),
    good.replace('b', 'g'),
    '',
  ])
    expect(v.is(id, bad)).toBe(false)
})
